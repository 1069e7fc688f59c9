// The page of a learner's own engine: the form of the boat with its drawing, and below it the bench to practise on it.

/** The form: fields with labels, hints and what is wrong beside them; what is typed stays, whatever the answer is. */
class OwnBoatForm {
  constructor(view, own) {
    Object.assign(this, { view, own, fields: {}, answersShown: "", drawnShown: "" });
    const { said } = own;
    const send = (action) => () => this.send(action);
    const draw = h("button", { type: "submit", class: "press strong" }, said.draw);
    const others = ["keep", "practise", "card", "blank"].map((action) => view.button(said[action], send(action), { "data-do": action }));
    this.picture = h("figure", { class: "drawn", hidden: true });
    this.box = h(
      "form", { class: "own", novalidate: true, onsubmit: (event) => { event.preventDefault(); this.send("draw"); } },
      h("h2", {}, said.form_title), h("p", {}, said.form_help),
      ...own.groups.map(([title, names]) => this.group(title, names)),
      h("div", { class: "row" }, draw, ...others), this.picture,
    );
  }

  group(title, names) {
    return h("fieldset", {}, h("legend", {}, title), h("div", { class: "fields" }, ...names.map((name) => this.field(name))));
  }

  field(name) {
    const { own, view } = this;
    const id = `${view.name}-own-${name}`;
    const input = this.input(name, id);
    const hint = own.hints[name] ? h("p", { class: "hint", id: `${id}-hint` }, own.hints[name]) : null;
    const wrong = h("p", { class: "wrong", id: `${id}-wrong`, hidden: true });
    if (hint) input.setAttribute("aria-describedby", hint.id);
    this.fields[name] = { input, wrong, hint };
    return h("div", { class: own.long.includes(name) ? "field long" : "field" }, h("label", { for: id }, own.labels[name]), input, hint, wrong);
  }

  input(name, id) {
    const { choices, long } = this.own;
    if (choices[name]) return h("select", { id, "data-own": name }, ...choices[name].map(([value, label]) => h("option", { value }, label)));
    if (long.includes(name)) return h("textarea", { id, rows: "3", "data-own": name });
    const figures = name === "tank_l" ? { inputmode: "decimal" } : {};
    return h("input", { id, type: "text", autocomplete: "off", "data-own": name, ...figures });
  }

  send(action) {
    const answers = Object.fromEntries(Object.entries(this.fields).map(([name, { input }]) => [name, input.value]));
    this.view.send(PAGE, action, { answers }, () => this.arrived(action));
  }

  /** The hands go where the next thing is to be done: to the first field that is wrong, or to the bench. */
  arrived(action) {
    const first = Object.values(this.fields).find(({ wrong }) => !wrong.hidden);
    if (first && action !== "blank") first.input.focus();
    else if (action === "practise" && this.view.model.get("panel").mode === "work") this.view.goToBench();
    else if (action === "draw") this.picture.scrollIntoView({ block: "nearest" });
  }

  render({ answers, wrong, drawn }) {
    this.fill(answers);
    for (const [name, field] of Object.entries(this.fields)) this.tell(field, wrong[name] ?? "");
    const shown = JSON.stringify(drawn);
    if (shown === this.drawnShown) return;
    this.drawnShown = shown;
    show(this.picture, Boolean(drawn));
    if (drawn) this.picture.replaceChildren(...this.pictureOf(drawn));
  }

  /** What another view or the kept file says comes into the fields, but never under somebody's hands. */
  fill(answers) {
    const said = JSON.stringify(answers);
    if (said === this.answersShown) return;
    this.answersShown = said;
    for (const [name, { input }] of Object.entries(this.fields)) {
      if (input === document.activeElement || input.value === answers[name]) continue;
      input.value = answers[name];
    }
  }

  tell({ input, wrong, hint }, text) {
    write(wrong, text);
    show(wrong, Boolean(text));
    if (text) input.setAttribute("aria-invalid", "true");
    else input.removeAttribute("aria-invalid");
    const describes = [text ? wrong.id : "", hint?.id ?? ""].filter(Boolean).join(" ");
    if (describes) input.setAttribute("aria-describedby", describes);
    else input.removeAttribute("aria-describedby");
  }

  /** The drawing stands still: it needs no ids, and keeps none, for the bench below has the same. */
  pictureOf({ title, picture, words }) {
    const svg = document.importNode(new DOMParser().parseFromString(picture, "image/svg+xml").documentElement, true);
    for (const node of [svg, ...svg.querySelectorAll("[id]")]) node.removeAttribute("id");
    for (const node of svg.querySelectorAll("title, desc")) node.remove();
    svg.removeAttribute("aria-labelledby");
    svg.setAttribute("aria-label", `${title}. ${words}`);
    const told = h("details", { class: "in-words" }, h("summary", {}, this.view.words.in_words), h("p", {}, words));
    return [svg, h("figcaption", {}, title), told];
  }
}

/** The bench with the form above it; what the bench says stands between the two. */
class OwnEngineView extends View {
  buildFrame() {
    super.buildFrame();
    this.form = new OwnBoatForm(this, this.words.own);
    this.title.tabIndex = -1;
    this.root.prepend(this.caution, this.form.box, this.noticeLine, this.alarmLine);
  }

  /** A practice ends here and is not kept: it has neither logbook nor ticket. */
  buildEnd() {
    const card = super.buildEnd();
    const { said } = this.words.own;
    const practise = () => this.form.send("practise");
    this.giveUp = this.askTwice(said.give_up, said.give_up_ask, said.give_up_yes, said.give_up_back, () => this.send(PAGE, "give_up"));
    const another = this.askTwice(said.another, said.another_ask, said.another_yes, said.another_back, practise);
    const end = this.button(said.end_practice, () => this.send(PAGE, "end", {}, () => this.form.box.querySelector("[data-do=practise]").focus()));
    card.replaceChildren(this.handedIn, this.truth, this.giveUp.box, this.handInCard, another.box, end);
    return card;
  }

  goToBench() {
    this.title.focus({ preventScroll: true });
    this.title.scrollIntoView({ block: "start" });
  }

  render() {
    super.render();
    const panel = this.model.get("panel");
    show(this.door, false);
    show(this.title, panel.mode === "work");
    show(this.giveUp.box, !panel.own.revealed);
    this.form.render(panel.own);
  }
}
