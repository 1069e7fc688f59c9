// The page with the sums: it shows what is asked, takes numbers, and sends them. It works nothing out.

let pages = 0;

class SumsView {
  constructor(model, host) {
    Object.assign(this, { model, words: model.get("words"), name: `sums-${++pages}` });
    this.root = h("section", { class: "fuel-bench sums", lang: "en", "aria-label": this.words.page, "data-ready": "no", "data-settled": "0" });
    this.root.addEventListener("keydown", (event) => { if (!event.ctrlKey && !event.metaKey && !event.altKey) event.stopPropagation(); });
    this.notice = h("p", { class: "notice", role: "status", hidden: true });
    this.body = h("div", {});
    this.root.append(this.notice, this.body);
    host.append(this.root);
    this.onShown = () => this.render();
    model.on("change:shown", this.onShown);
    this.stopWatching = watchDark(this.root);
    this.render();
    this.root.dataset.ready = "yes";
  }

  leave() {
    this.model.off?.("change:shown", this.onShown);
    this.stopWatching();
    this.root.remove();
  }

  send(action, more = {}) {
    this.model.send({ action, ...more });
  }

  button(text, press, strong = false) {
    return h("button", { type: "button", class: `press ${strong ? "strong" : ""}`, onclick: press }, text);
  }

  render() {
    const shown = this.model.get("shown");
    this.notice.textContent = shown.notice ?? "";
    this.notice.hidden = !shown.notice;
    this.notice.className = shown.warning ? "notice warn" : "notice";
    if (shown.mode === "ticket") this.renderDoor();
    else this.renderSums(shown);
    this.root.dataset.settled = String(Number(this.root.dataset.settled) + 1);
  }

  renderDoor() {
    const w = this.words;
    const input = h("input", { id: `${this.name}-ticket`, autocomplete: "off", autocapitalize: "characters", spellcheck: "false", maxlength: "40" });
    const form = h(
      "form", { onsubmit: (event) => { event.preventDefault(); this.send("ticket", { text: input.value }); } },
      h("h3", {}, w.ticket_title), h("p", {}, w.ticket_help), h("label", { for: input.id }, w.ticket_label), input,
      h("div", { class: "row" }, h("button", { type: "submit", class: "press strong" }, w.ticket_do), this.button(w.ticket_fresh, () => this.send("fresh"))),
    );
    this.ticket = null;
    this.body.replaceChildren(h("div", { class: "card door" }, form));
  }

  /** The same ticket keeps its boxes, and what is typed in them. */
  renderSums(shown) {
    if (this.ticket !== shown.ticket) this.buildSums(shown);
    for (const sum of shown.sums) {
      const { card, result } = this.cards[sum.id];
      const marks = sum.right === null || sum.right === undefined ? "" : sum.right ? "right" : "wrong";
      card.dataset.result = marks;
      result.replaceChildren(...sum.said.map((text, at) => h("p", { class: at ? "" : "first" }, text)));
    }
  }

  buildSums(shown) {
    const w = this.words;
    this.ticket = shown.ticket;
    this.cards = {};
    const cards = shown.sums.map((sum, at) => {
      const id = `${this.name}-${sum.id}`;
      const input = h("input", { id, inputmode: "decimal", autocomplete: "off", maxlength: "40", "aria-describedby": `${id}-asked ${id}-unit` });
      input.value = sum.answer;
      const result = h("div", { class: "result", role: "status" });
      const line = h("div", { class: "sum-line" }, h("label", { for: id }, w.answer), input, h("span", { class: "unit", id: `${id}-unit` }, sum.unit));
      const card = h("div", { class: "card sum" }, h("h3", {}, `${at + 1}  ${sum.title}`), h("p", { id: `${id}-asked` }, sum.text), line, result);
      this.cards[sum.id] = { card, input, result };
      return card;
    });
    const answers = () => Object.fromEntries(Object.entries(this.cards).map(([id, { input }]) => [id, input.value]));
    const keep = this.button(w.keep, () => this.send("keep", { answers: answers() }), !shown.practice);
    const check = shown.practice ? this.button(w.check, () => this.send("check", { answers: answers() }), true) : null;
    const other = this.button(shown.practice ? w.ticket_fresh : w.ticket_other, () => this.send(shown.practice ? "fresh" : "other"));
    const ticket = h("p", { class: "ticket" }, `${w.ticket_is} ${shown.ticket}${shown.practice ? ` (${w.practice})` : ""}`);
    const head = h("p", { class: "story" }, `${w.help} ${shown.practice ? w.practice_help : w.instructor}`);
    this.body.replaceChildren(head, ticket, h("div", { class: "sum-list" }, ...cards), h("div", { class: "row" }, check, keep, other, shown.practice ? this.button(w.ticket_other, () => this.send("other")) : null));
  }
}

export default {
  render({ model, el }) {
    const view = new SumsView(model, el);
    return () => view.leave();
  },
};
