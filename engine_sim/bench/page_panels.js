// A page of panels: it shows what the desk describes, keeps what is typed, and sends it when a button is pressed.

let panelPages = 0;
const ANSWER_WITHIN_MS = 3000;

/** Where a file of the class's folder is served. */
function fileAddress(path) {
  const settings = document.getElementById("jupyter-config-data");
  const base = settings ? JSON.parse(settings.textContent).baseUrl : "/";
  const [head, rest] = path.startsWith("/") ? ["", path.slice(1)] : ["files/", path];
  return base + head + rest.split("/").map(encodeURIComponent).join("/");
}

class PanelsView {
  constructor(model, host) {
    Object.assign(this, { model, words: model.get("words"), name: `panels-${++panelPages}`, typed: {}, given: {}, open: {}, busy: false });
    this.root = h("section", { class: "fuel-bench panels", lang: "en", "aria-label": this.words.page, "data-ready": "no", "data-settled": "0" });
    this.root.addEventListener("keydown", (event) => { if (!event.ctrlKey && !event.metaKey && !event.altKey) event.stopPropagation(); });
    this.working = h("p", { class: "notice working", role: "status", hidden: true });
    this.notice = h("p", { class: "notice", role: "status", tabindex: "-1", hidden: true });
    this.body = h("div", { class: "panel-list" });
    this.root.append(this.body, this.notice, this.working);
    host.append(this.root);
    this.onShown = () => { this.busy = false; this.render(); };
    this.onWorking = () => this.renderWorking();
    model.on("change:shown", this.onShown);
    model.on("change:working", this.onWorking);
    this.stopWatching = watchDark(this.root);
    this.render();
    this.root.dataset.ready = "yes";
  }

  leave() {
    this.model.off?.("change:shown", this.onShown);
    this.model.off?.("change:working", this.onWorking);
    this.stopWatching();
    this.root.remove();
  }

  valuesOf(panel) {
    return Object.fromEntries((panel.fields ?? []).map(({ id }) => [id, this.typed[`${panel.id}.${id}`]]));
  }

  /** While one thing is done no other is asked for; after three seconds without a sign the page says so. */
  async send(panel, action, more = {}) {
    if (this.busy) return;
    this.busy = true;
    this.lastPanel = panel.id;
    this.pressed = document.activeElement?.id;
    const files = [...this.body.querySelectorAll(`[data-panel="${panel.id}"] input[type=file]`)].flatMap((input) => [...input.files]);
    const buffers = action === "choose" ? [] : await Promise.all(files.map((file) => file.arrayBuffer()));
    const sent = { panel: panel.id, action, values: this.valuesOf(panel), files: buffers.length ? files.map((file) => file.name) : [], ...more };
    this.model.send(sent, undefined, buffers);
    if (action !== "choose") this.setBusy();
  }

  setBusy() {
    for (const button of this.body.querySelectorAll("button")) button.disabled = true;
    this.notice.hidden = true;
    this.working.textContent = `${this.words.working} …`;
    this.working.hidden = false;
  }

  renderWorking() {
    const text = this.model.get("working");
    if (text) { this.working.textContent = text; this.working.hidden = false; }
  }

  render() {
    const shown = this.model.get("shown");
    const active = document.activeElement?.id || this.pressed;
    this.pressed = "";
    this.working.hidden = true;
    this.body.replaceChildren(...shown.panels.map((panel, at) => this.panel(panel, at)));
    this.renderNotice(shown);
    const again = active ? document.getElementById(active) : null;
    if (again && this.body.contains(again)) again.focus({ preventScroll: true });
    else if (active && !this.notice.hidden) this.notice.focus({ preventScroll: true });
    this.root.dataset.settled = String(Number(this.root.dataset.settled) + 1);
  }

  /** What is said stands in the panel in which something was asked. */
  renderNotice(shown) {
    this.notice.textContent = shown.notice ?? "";
    this.notice.hidden = !shown.notice;
    this.notice.className = shown.warning ? "notice warn" : "notice";
    const place = this.body.querySelector(`[data-panel="${this.lastPanel}"] .said`);
    if (place) place.append(this.notice);
    if (place) place.append(this.working);
  }

  panel(panel, at) {
    const head = h("summary", {}, h("h2", {}, panel.title));
    const parts = [
      ...(panel.about ?? []).map((text) => h("p", {}, text)),
      ...(panel.fields ?? []).length ? [h("div", { class: "fields" }, ...panel.fields.map((field) => this.field(panel, field)))] : [],
      ...(panel.buttons ?? []).length ? [h("div", { class: "row" }, ...panel.buttons.map((button) => this.button(panel, button)))] : [],
      h("div", { class: "said" }),
      ...(panel.lines ?? []).map(([kind, text]) => h(kind === "head" ? "h3" : "p", { class: kind }, text)),
      ...(panel.tables ?? []).map((table) => this.table(table)),
      ...(panel.links ?? []).length ? [h("ul", { class: "links" }, ...panel.links.map((link) => h("li", {}, this.link(link))))] : [],
    ];
    const box = h("details", { class: "card panel", "data-panel": panel.id }, head, h("div", { class: "panel-body" }, ...parts));
    box.open = this.open[panel.id] ?? at === 0;
    box.addEventListener("toggle", () => { this.open[panel.id] = box.open; });
    return box;
  }

  /** What the desk gave anew stands in the field; else what was typed stays, if it can still be chosen. */
  field(panel, field) {
    const key = `${panel.id}.${field.id}`;
    const id = `${this.name}-${panel.id}-${field.id}`;
    const given = JSON.stringify([field.value, field.fresh]);
    const gone = field.kind === "choice" && !field.choices.some(([one]) => String(one) === String(this.typed[key]));
    if (this.given[key] !== given || !(key in this.typed) || gone) { this.typed[key] = field.value; this.given[key] = given; }
    if (field.kind === "ticks") return this.ticks(panel, field, id, key);
    const input = this.input(field, id, this.typed[key]);
    const keep = () => { if (field.kind !== "files") this.typed[key] = field.kind === "tick" ? input.checked : input.value; };
    input.addEventListener("input", keep);
    input.addEventListener("change", () => { keep(); if (field.asks) this.send(panel, "choose", { field: field.id }); });
    const help = field.help ? h("p", { class: "hint", id: `${id}-help` }, field.help) : null;
    if (help) input.setAttribute("aria-describedby", help.id);
    const label = h("label", { for: id }, field.label);
    const order = field.kind === "tick" ? [input, label, help] : [label, input, help];
    return h("div", { class: `field ${field.kind} ${field.wide ? "wide" : ""}` }, ...order);
  }

  input(field, id, value) {
    if (field.kind === "choice") {
      const options = field.choices.map(([one, label]) => h("option", { value: one, selected: String(one) === String(value) }, label));
      return h("select", { id }, ...options);
    }
    if (field.kind === "long") {
      const area = h("textarea", { id, rows: String(field.rows ?? 4) });
      area.value = value ?? "";
      return area;
    }
    if (field.kind === "tick") {
      const box = h("input", { id, type: "checkbox" });
      box.checked = Boolean(value);
      return box;
    }
    if (field.kind === "files") return h("input", { id, type: "file", multiple: true });
    const input = h("input", { id, type: "text", autocomplete: "off", spellcheck: "false" });
    input.value = value ?? "";
    return input;
  }

  ticks(panel, field, id, key) {
    const chosen = new Set(this.typed[key] ?? []);
    const boxes = field.choices.map(([value, label], at) => {
      const box = h("input", { type: "checkbox", id: `${id}-${at}` });
      box.checked = chosen.has(value);
      box.addEventListener("change", () => {
        if (box.checked) chosen.add(value); else chosen.delete(value);
        this.typed[key] = [...chosen];
        if (field.asks) this.send(panel, "choose", { field: field.id });
      });
      return h("div", { class: "tick" }, box, h("label", { for: box.id }, label));
    });
    return h("fieldset", { class: "field ticks" }, h("legend", {}, field.label), ...boxes);
  }

  button(panel, button) {
    const ask = () => this.send(panel, button.action);
    const main = h("button", { type: "button", id: `${this.name}-${panel.id}-${button.action}`, class: `press ${button.strong ? "strong" : ""}` }, button.label);
    if (!button.confirm) { main.addEventListener("click", ask); return main; }
    const box = h("div", { class: "twice" }, main);
    main.addEventListener("click", () => {
      const yes = h("button", { type: "button", class: "press strong", onclick: ask }, this.words.yes);
      const no = h("button", { type: "button", class: "press", onclick: () => { box.replaceChildren(main); main.focus(); } }, this.words.no);
      box.replaceChildren(h("p", { class: "notice warn" }, button.confirm), h("div", { class: "row" }, yes, no));
      no.focus();
    });
    return box;
  }

  cell(cell) {
    return typeof cell === "string" ? cell : this.link(cell);
  }

  /** What is short, such as a ticket, stays on one line. */
  kindOf(cell) {
    return typeof cell === "string" && cell.length <= 14 ? "short" : "";
  }

  table({ caption, head, rows }) {
    const heads = h("thead", {}, h("tr", {}, ...head.map((text) => h("th", { scope: "col" }, text))));
    const body = rows.map(([first, ...rest]) => h("tr", {}, h("th", { scope: "row" }, this.cell(first)), ...rest.map((cell) => h("td", { class: this.kindOf(cell) }, this.cell(cell)))));
    return h("div", { class: "table", tabindex: "0", role: "region", "aria-label": caption }, h("table", {}, h("caption", {}, caption), heads, h("tbody", {}, ...body)));
  }

  link({ text, path }) {
    return h("a", { href: fileAddress(path), target: "_blank", rel: "noopener" }, text);
  }
}

export default {
  render({ model, el }) {
    const view = new PanelsView(model, el);
    return () => view.leave();
  },
};
