// The page for the wall: set a fault and hide it, choose the next check by its number, or go through a logbook.

/** Files that are larger than this were not made by the bench. */
const LARGEST_LOGBOOK = 5000000;

/** What stands above the drawing at the wall; `view` is the bench's own view, `w` the words of this page. */
class AtTheWall {
  constructor(view, w) {
    Object.assign(this, { view, w });
    this.form = this.buildForm();
    this.vote = h("div", { class: "vote", tabindex: "-1", role: "group", "aria-label": w.vote });
    this.care = h("div", { class: "vote-care" });
    this.left = h("p", { class: "left-line", role: "status" });
    this.known = h("ol", { class: "known" });
    this.was = h("p", { class: "was" });
    this.stepLine = h("p", { class: "step-line", role: "status" });
    const act = (label, action, more = {}) => view.button(label, () => view.send(PAGE, action, more));
    this.previous = act(w.previous, "step", { which: "previous" });
    this.next = act(w.next, "step", { which: "next" });
    this.showIt = act(w.show_do, "show");
    this.leave = act(w.again_do, "leave");
    const ends = [act(w.first, "step", { which: "first" }), act(w.last, "step", { which: "last" })];
    this.steps = h("div", { class: "row" }, this.previous, this.next, ...ends);
    this.side = h("div", { class: "wall-side" }, this.stepLine, this.left, this.known, this.was, h("div", { class: "row" }, this.showIt, this.leave));
    this.bar = h("div", { class: "wall" }, this.steps, this.vote, this.side);
  }

  buildForm() {
    const { w, view } = this;
    const pick = (name, label, change) => {
      const select = h("select", { id: `${view.name}-${name}`, onchange: change });
      return [select, h("label", { for: select.id }, label)];
    };
    let labels = [];
    [this.boat, labels[0]] = pick("boat", w.boat, () => view.send(PAGE, "boat", { which: this.boat.value }));
    [this.what, labels[1]] = pick("what", w.fault, () => this.offerPlaces());
    [this.place, labels[2]] = pick("place", w.place, () => {});
    const set = view.button(w.set_do, () => view.send(PAGE, "set", { fault: this.what.value, place: this.place.value }), { class: "strong" });
    const draw = view.button(w.draw_do, () => view.send(PAGE, "draw"));
    this.file = h("input", { type: "file", accept: ".jsonl", id: `${view.name}-file`, onchange: () => this.read() });
    const replay = h("div", {}, view.heading(w.replay_title), h("p", {}, w.replay_help), h("label", { for: this.file.id }, w.replay_file), this.file);
    const fields = [this.boat, this.what, this.place].flatMap((select, i) => [labels[i], select]);
    return h("div", { class: "card door set-fault" }, view.heading(w.set_title), h("p", {}, w.set_help), ...fields, h("div", { class: "row" }, set, draw), replay);
  }

  async read() {
    const [file] = this.file.files;
    if (!file || file.size > LARGEST_LOGBOOK) return;
    const text = await file.text();
    this.view.send(PAGE, "replay", { text });
  }

  offerPlaces() {
    const found = this.setting.faults.find((one) => one.id === this.what.value);
    this.view.fillChoices(this.place, found?.places ?? []);
    if (found?.places.length === 1) this.place.value = found.places[0].id;
  }

  /** A stage begins with the keys in the room's hands, and with nothing left of what was set. */
  begin(stage) {
    if (stage === this.stage) return;
    this.stage = stage;
    this.choicesShown = null;
    if (stage !== "set") {
      for (const select of [this.what, this.place]) select.replaceChildren();
      for (const select of [this.what, this.place]) delete select.dataset.names;
      this.file.value = "";
    }
    const first = { show: this.vote, replay: this.next, set: this.boat }[stage];
    if (this.view.root.dataset.ready === "yes") queueMicrotask(() => {
      if (stage !== "set") this.view.root.scrollIntoView({ block: "start" });
      first.focus({ preventScroll: stage !== "set" });
    });
  }

  render(present) {
    show(this.form, present.stage === "set");
    show(this.bar, present.stage !== "set");
    show(this.steps, present.stage === "replay");
    show(this.showIt, present.stage === "show" && !present.revealed);
    write(this.leave, present.stage === "replay" ? this.w.leave_replay : this.w.again_do);
    if (present.setting) {
      this.setting = present.setting;
      this.view.fillChoices(this.boat, present.setting.boats);
      this.boat.value = present.setting.boat;
      this.view.fillChoices(this.what, present.setting.faults);
      this.offerPlaces();
    }
    write(this.left, present.left);
    write(this.was, present.was);
    write(this.stepLine, present.step);
    show(this.stepLine, Boolean(present.step));
    this.renderVote(present);
    this.begin(present.stage);
    this.known.replaceChildren(...present.known.map(([text, share]) => {
      const bar = h("span", { class: "bar", "aria-hidden": "true" });
      bar.style.width = `${share}%`;
      return h("li", {}, `${text} (${share} %)`, bar);
    }));
  }

  renderVote(present) {
    for (const node of [this.vote, this.care]) show(node, present.stage === "show" && !present.revealed);
    const choices = JSON.stringify(present.choices);
    if (choices === this.choicesShown) return;
    this.choicesShown = choices;
    const had = this.vote.contains(document.activeElement) || document.activeElement === document.body;
    const buttons = present.choices.map(({ label }, i) => this.view.button(`${i + 1}  ${label}`, () => this.choose(i + 1), { class: "vote-one" }));
    this.vote.replaceChildren(h("p", {}, buttons.length ? this.w.vote : this.w.vote_none), ...buttons);
    this.care.replaceChildren(...this.cautionsOf(present.choices, buttons));
    if (had && present.stage === "show") this.vote.focus();
  }

  /** What to take care of, each caution once, behind the numbers of the choices that it belongs to. */
  cautionsOf(choices, buttons) {
    const all = [...new Set(choices.flatMap((one) => one.cautions))];
    return all.map((text, at) => {
      const id = `${this.view.name}-vote-care-${at}`;
      const numbers = choices.flatMap((one, i) => (one.cautions.includes(text) ? [i + 1] : []));
      for (const number of numbers) buttons[number - 1].setAttribute("aria-describedby", [buttons[number - 1].getAttribute("aria-describedby"), id].filter(Boolean).join(" "));
      return h("p", { class: "caution", id }, h("strong", {}, `${numbers.join(", ")}  ${this.view.words.take_care}`), ` ${text}`);
    });
  }

  choose(number) {
    this.view.send(PAGE, "vote", { number });
  }

  /** One key enters the room's choice; a presenter's clicker goes on and back with Page Down and Page Up. */
  key(event, present) {
    const typing = ["INPUT", "SELECT", "TEXTAREA"].includes(event.target.tagName) || event.target.isContentEditable;
    if (typing || event.ctrlKey || event.metaKey || event.altKey || !present) return;
    const number = Number(event.key);
    if (present.stage === "show" && number >= 1 && number <= present.choices.length) this.choose(number);
    else if (present.stage === "replay" && event.key === "PageDown") this.view.send(PAGE, "step", { which: "next" });
    else if (present.stage === "replay" && event.key === "PageUp") this.view.send(PAGE, "step", { which: "previous" });
    else return;
    event.preventDefault();
    event.stopPropagation();
  }
}
