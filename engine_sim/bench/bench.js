// The page side of the bench. It knows nothing of fuel: it lays real buttons over the drawing, sends what was
// pressed, and writes what comes back. It needs a model with get, set, on, off and send, and nothing else.

/** An answer that comes sooner needs no word that it is worked on. */
const BUSY_AFTER_MS = 250;
const ANSWER_WITHIN_MS = 3000;
const WORK_WITHIN_MS = 60000;
/** Longer work says in words how far it is; each word buys so much time. */
const TOLD_WITHIN_MS = 300000;
const PAGE = "page";
const SVG = "http://www.w3.org/2000/svg";
/** How much of the drawing a closer look shows, as a share of the chosen part's frame, and its shape. */
const LENS_ROOM = 1.25;
const LENS_SHAPE = 1.9;
/** A button must not be smaller than this on the screen. */
const LEAST_TARGET_PX = 44;
/** Up to so many things to do at a part stand open under their headings. */
const FEW_OFFERS = 6;
/** Other benches on the page load this script anew, so a count alone would give two drawings the same ids. */
const LOADED = Math.random().toString(36).slice(2, 10);
let viewsMade = 0;

function show(node, visible) {
  if (node.hidden === visible) node.hidden = !visible;
}

function write(node, text) {
  if (node.textContent !== text) node.textContent = text;
}

/** Write a list anew only where it says something else: what is drawn again costs time, also where nobody sees it. */
function list(node, texts) {
  const written = JSON.stringify(texts);
  if (node.written === written) return;
  node.written = written;
  node.replaceChildren(...texts.map((text) => h("li", {}, text)));
}

/** Take an answer into the model once, whatever number of views look at it. */
function absorb(model, message) {
  if (message.kind !== "answer") return;
  const turn = model.get("turn");
  if (message.turn <= turn) return;
  if (message.turn !== turn + 1) {
    model.send({ part: PAGE, action: "refresh", seq: message.turn });
    return;
  }
  const scene = { ...model.get("scene") };
  for (const [id, attributes] of Object.entries(message.scene)) scene[id] = { ...scene[id], ...attributes };
  model.set("film", message.film ?? []);
  model.set("scene", scene);
  model.set("panel", { ...model.get("panel"), ...message.panel });
  model.set("noticed", message.noticed_from === 0 ? message.noticed : [...model.get("noticed"), ...message.noticed]);
  model.set("turn", message.turn);
}

/** One look at the bench. */
class View {
  constructor(model, host) {
    this.model = model;
    this.name = `fb-${LOADED}-${++viewsMade}`;
    this.presses = 0;
    this.pending = null;
    this.words = model.get("words");
    this.noticedShown = 0;
    this.film = null;
    this.sounds = new Sounds();
    this.keptDiagnosis = "";
    this.root = h("section", { class: "fuel-bench", lang: "en", "aria-label": this.words.bench, "data-ready": "no", "data-settled": "0" });
    this.root.addEventListener("keydown", (event) => this.keepKey(event));
    host.append(this.root);
    this.buildFrame();
    this.buildDrawing();
    this.listen();
    this.render();
    this.root.dataset.ready = "yes";
  }

  // ---- talking with the model -------------------------------------------------------------------------------

  listen() {
    this.listeners = [
      ["change:turn", () => this.renderWithFilm()],
      ["change:skeleton", () => this.buildDrawing()],
      ["msg:custom", (message) => this.hear(message)],
    ];
    for (const [event, handler] of this.listeners) this.model.on(event, handler);
    this.anyKey = (event) => { if (!this.root.contains(event.target)) this.wall.key(event, this.model.get("panel").present); };
    document.addEventListener("keydown", this.anyKey, true);
    this.stopWatchingTheme = watchDark(this.root);
    this.watchSize = new ResizeObserver(() => this.fit());
    this.watchSize.observe(this.stage);
  }

  leave() {
    for (const [event, handler] of this.listeners) this.model.off?.(event, handler);
    document.removeEventListener("keydown", this.anyKey, true);
    clearTimeout(this.timer);
    clearTimeout(this.busyTimer);
    this.stopWatchingTheme();
    this.watchSize.disconnect();
    this.root.remove();
  }

  send(part, action, more = {}, after = null) {
    if (this.pending) return;
    this.film?.end();
    this.pending = { press: ++this.presses, after };
    this.root.dataset.busy = "yes";
    this.busyTimer = setTimeout(() => write(this.busyLine, this.words.working), BUSY_AFTER_MS);
    this.timer = setTimeout(() => this.alarm(this.words.no_answer), ANSWER_WITHIN_MS);
    const film = kept.get("film", "yes") && !stillness();
    const message = { part, action, seq: this.model.get("turn"), view: this.name, press: this.presses, film, ...more };
    try {
      this.model.send(message);
    } catch (error) {
      this.alarm(this.words.not_alive);
    }
  }

  hear(message) {
    if (message.view !== this.name || !this.pending || message.press !== this.pending.press) return;
    clearTimeout(this.timer);
    this.alarm("");
    if (message.kind === "working") {
      if (message.notice) for (const line of [this.progressLine, this.busyLine, this.helpBusy]) write(line, message.notice);
      this.timer = setTimeout(() => this.alarm(this.words.no_answer), message.notice ? TOLD_WITHIN_MS : WORK_WITHIN_MS);
      return;
    }
    const after = this.pending.after;
    this.rest();
    if (message.file) this.download(message.file);
    if (message.sounds && kept.get("sound", "no")) this.sounds.play(message.sounds);
    this.say(message.notice ?? "", message.kind === "refused" || this.model.get("panel").warning);
    if (after && message.kind === "answer") after();
    this.settle();
  }

  alarm(text) {
    const changed = this.alarmText.textContent !== text;
    write(this.alarmText, text);
    show(this.alarmLine, Boolean(text));
    if (text && changed) {
      this.rest();
      this.settle();
    }
  }

  /** Nothing is waited for any more. */
  rest() {
    this.pending = null;
    delete this.root.dataset.busy;
    clearTimeout(this.busyTimer);
    for (const line of [this.progressLine, this.busyLine, this.helpBusy]) write(line, "");
  }

  say(text, warning) {
    write(this.noticeLine, text);
    this.noticeLine.className = warning ? "notice warn" : "notice";
    show(this.noticeLine, Boolean(text));
  }

  settle() {
    this.root.dataset.settled = String(Number(this.root.dataset.settled) + 1);
  }

  download(file) {
    const data = file.base64 ? Uint8Array.from(atob(file.base64), (one) => one.charCodeAt(0)) : file.text;
    const address = URL.createObjectURL(new Blob([data], { type: file.kind }));
    const link = h("a", { href: address, download: file.name });
    this.root.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(address), 10000);
  }

  // ---- page frame -------------------------------------------------------------------------------------------

  button(text, press, extra = {}) {
    const { class: kind = "", ...rest } = extra;
    return h("button", { type: "button", class: `press ${kind}`, onclick: press, ...rest }, text);
  }

  heading(text) {
    return h("h3", {}, text);
  }

  buildFrame() {
    const w = this.words;
    this.title = h("h2", {});
    this.facts = h("p", { class: "facts" });
    this.busyLine = h("span", { class: "busy", "aria-hidden": "true" });
    this.alarmText = h("p", {});
    const again = this.button(w.open_again, () => window.location.reload(), { class: "strong" });
    this.alarmLine = h("div", { class: "alarm", role: "alert", hidden: true }, this.alarmText, again);
    this.noticeLine = h("p", { class: "notice", role: "status", hidden: true });
    this.story = h("p", { class: "story" });
    this.caution = h("p", { class: "caution first" });
    this.stage = h("div", { class: "stage" });
    this.spots = h("div", { class: "spots", role: "group", "aria-label": w.parts });
    this.stage.append(this.spots);
    this.xrayButton = this.button("", () => this.send(PAGE, "xray"), { class: "toggle", "aria-pressed": "false" });
    this.key = h("p", { class: "key" });
    this.inWords = h("p", {});
    const words = h("details", { class: "in-words" }, h("summary", {}, w.in_words), this.inWords);
    this.filmClock = h("span", { class: "at" });
    this.filmBar = h("div", { class: "film-bar" }, this.filmClock, this.button(w.film_skip, () => this.film?.end()));
    const switches = [this.xrayButton, this.keptSwitch("film", w.film, "yes"), this.keptSwitch("sound", w.sound, "no")];
    this.wall = new AtTheWall(this, w.wall);
    const held = h("div", { class: "held" }, this.stage, this.wall.care, h("div", { class: "under" }, ...switches, this.filmBar, this.key), words);
    const left = h("div", { class: "left" }, held);
    const right = h("div", { class: "right" }, this.buildNoticed(), this.wall.bar, this.buildActions());
    this.cards = h("div", { class: "cards" }, this.buildPlots(), this.buildMarks(), this.buildHelp(), this.buildNotes(), this.buildDiagnosis(), this.buildEnd(), this.buildAboard(), this.buildCautions());
    this.work = h("div", { class: "work" }, left, right, this.cards);
    const head = h("header", {}, this.title, this.facts);
    this.root.append(head, this.story, this.caution, this.alarmLine, this.noticeLine, this.buildDoor(), this.wall.form, this.work);
  }

  /** A switch that this browser remembers. */
  keptSwitch(name, label, first) {
    const press = () => {
      kept.set(name, !kept.get(name, first));
      look();
    };
    const made = this.button(label, press, { class: "toggle" });
    const look = () => made.setAttribute("aria-pressed", String(kept.get(name, first)));
    look();
    return made;
  }

  buildActions() {
    this.partTitle = h("h3", { tabindex: "-1" });
    this.purpose = h("p", { class: "purpose" });
    this.inside = h("ul", { class: "inside" });
    this.offers = h("div", { class: "offers" });
    this.lens = document.createElementNS(SVG, "svg");
    this.lens.setAttribute("class", "fb-svg lens");
    this.lens.setAttribute("aria-hidden", "true");
    this.closer = h("details", { class: "closer", ontoggle: () => this.fillLens() }, h("summary", {}, this.words.closer), this.lens);
    const box = h("div", { class: "actions" }, h("div", { class: "titled" }, this.partTitle, this.busyLine), this.purpose, this.inside, this.closer, this.offers);
    box.addEventListener("keydown", (event) => {
      if (event.key === "Escape") this.focusSpot(this.chosenPart());
    });
    return box;
  }

  buildNoticed() {
    const name = `${this.name}-noticed`;
    this.noticed = h("div", { class: "noticed", role: "log", tabindex: "0", "aria-labelledby": name, "aria-relevant": "additions" });
    this.nothing = h("p", { class: "quiet nothing" }, this.words.nothing_yet);
    this.about = h("select", { id: `${this.name}-about`, onchange: () => this.filterNoticed() });
    this.aboutLabel = h("label", { class: "about", for: this.about.id }, this.words.about, this.about);
    const head = h("div", { class: "titled" }, h("h3", { id: name }, this.words.noticed), this.aboutLabel);
    return h("div", { class: "log" }, head, this.nothing, this.noticed);
  }

  buildNotes() {
    const w = this.words;
    this.noteList = h("ul", { class: "note-list" });
    this.note = h("textarea", { rows: "3", id: `${this.name}-note` });
    this.noteButton = this.button(w.note_do, () => {
      const text = this.note.value;
      this.send(PAGE, "note", { text }, () => {
        if (this.model.get("panel").note_kept && this.note.value === text) this.note.value = "";
      });
    });
    return h("div", { class: "card" }, this.heading(w.notes), h("label", { for: `${this.name}-note` }, w.note_label), this.note, this.noteButton, this.noteList);
  }

  buildDiagnosis() {
    const w = this.words;
    this.whichPart = h("select", { id: `${this.name}-part`, onchange: () => { this.offerFaults(); this.markUnkept(); } });
    this.whichFault = h("select", { id: `${this.name}-fault`, onchange: () => this.markUnkept() });
    this.evidence = h("div", { class: "evidence", tabindex: "0", role: "group", "aria-label": w.evidence });
    this.noEvidence = h("p", { class: "quiet" }, w.no_evidence);
    this.diagnosisNow = h("p", { class: "kept" });
    this.diagnosisButton = this.button(w.diagnosis_do, () => this.keepDiagnosis());
    this.diagnosisForm = h(
      "div", {},
      h("label", { for: this.whichPart.id }, w.which_part), this.whichPart,
      h("label", { for: this.whichFault.id }, w.which_fault), this.whichFault,
      h("p", { class: "like-label" }, w.evidence), this.noEvidence, this.evidence, this.diagnosisButton,
    );
    this.diagnosisCard = h("div", { class: "card wide" }, this.heading(w.diagnosis), h("p", {}, w.diagnosis_help), this.diagnosisNow, this.diagnosisForm);
    return this.diagnosisCard;
  }

  buildEnd() {
    const w = this.words;
    this.handIn = this.askTwice(w.hand_in, w.hand_in_ask, w.hand_in_yes, w.hand_in_back, () => this.send(PAGE, "hand_in"), () => this.handInWarnings());
    this.handInCard = h("div", {}, this.heading(w.hand_in), h("p", {}, w.hand_in_help), this.handIn.box);
    this.handedIn = h("p", { class: "kept" }, w.handed_in);
    this.truth = h("ul", { class: "truth" });
    this.again = this.askTwice("", w.again_ask, w.again_yes, w.again_back, () => this.send(PAGE, "again"));
    this.ticketLine = h("p", { class: "ticket" });
    this.otherTicket = this.button(w.other_ticket, () => this.send(PAGE, "other_ticket", {}, () => this.ticketInput.focus()));
    this.againHelp = h("p", {}, w.again_help);
    const save = this.button(w.save, () => this.send(PAGE, "save"));
    return h("div", { class: "card" }, this.handedIn, this.truth, this.handInCard, this.heading(w.logbook), h("p", {}, w.logbook_help), this.ticketLine, save, this.again.box, this.otherTicket, this.againHelp);
  }

  buildHelp() {
    this.helpButtons = h("div", { class: "row" });
    this.helpSaid = h("ul", { class: "help-said" });
    this.helpBusy = h("p", { class: "progress", role: "status" });
    this.helpCard = h("div", { class: "card" }, this.heading(this.words.help), h("p", { class: "quiet" }, this.words.help_about), this.helpButtons, this.helpBusy, this.helpSaid);
    return this.helpCard;
  }

  renderHelp(panel) {
    show(this.helpCard, panel.helps.length + panel.help_said.length > 0);
    const helps = JSON.stringify(panel.helps);
    if (helps !== this.helpsWritten) {
      this.helpsWritten = helps;
      this.helpButtons.replaceChildren(...panel.helps.map(([which, label]) => this.button(label, () => this.send(PAGE, "help", { which }), { "data-help": which })));
    }
    list(this.helpSaid, panel.help_said);
  }

  buildPlots() {
    this.plotButtons = h("div", { class: "row" });
    this.plotShown = h("div", { class: "plot" });
    const help = h("p", { class: "quiet" }, this.words.plots_help);
    this.plotsCard = h("div", { class: "card plots" }, this.heading(this.words.plots), help, this.plotButtons, this.plotShown);
    return this.plotsCard;
  }

  renderPlots(panel) {
    show(this.plotsCard, panel.plots.length > 0);
    const names = panel.plots.map(([which]) => which).join(" ");
    if (names !== this.plotNames) {
      this.plotNames = names;
      this.plotButtons.replaceChildren(...panel.plots.map(([which, label]) => this.button(label, () => this.send(PAGE, "plot", { which }), { class: "toggle", "data-plot": which })));
    }
    for (const button of this.plotButtons.children) button.setAttribute("aria-pressed", String(button.dataset.plot === panel.plot_of));
    if (panel.plot === this.plotWritten) return;
    this.plotWritten = panel.plot;
    const svg = panel.plot ? [document.importNode(new DOMParser().parseFromString(panel.plot, "image/svg+xml").documentElement, true)] : [];
    this.plotShown.replaceChildren(...svg);
  }

  /** Marks at once, for practice that is handed in; how far the marking is, is said in words. */
  buildMarks() {
    const w = this.words;
    this.marksTitle = h("h3", { tabindex: "-1" }, w.marks);
    this.marksHelp = h("p", {}, w.marks_help);
    this.marksButton = this.button(w.marks_do, () => this.send(PAGE, "marks", {}, () => this.marksTitle.focus()), { class: "strong" });
    this.progressLine = h("p", { class: "progress", role: "status" });
    this.verdict = h("p", { class: "verdict" });
    this.markRows = h("tbody", {});
    this.markPages = h("div", { class: "reasons" });
    this.marksShown = h("div", {}, this.verdict, h("table", {}, this.markRows), this.markPages);
    this.marksCard = h("div", { class: "card marks" }, this.marksTitle, this.marksHelp, this.marksButton, this.progressLine, this.marksShown);
    return this.marksCard;
  }

  renderMarks(panel) {
    show(this.marksCard, Boolean(panel.may_mark));
    show(this.marksHelp, !panel.marks);
    show(this.marksButton, !panel.marks);
    show(this.marksShown, Boolean(panel.marks));
    const marks = JSON.stringify(panel.marks ?? null);
    if (marks === this.marksWritten) return;
    this.marksWritten = marks;
    const { verdict = "", rows = [], pages = [] } = panel.marks ?? {};
    write(this.verdict, verdict);
    this.markRows.replaceChildren(...rows.map(([name, points]) => h("tr", {}, h("th", { scope: "row" }, name), h("td", {}, points))));
    this.markPages.replaceChildren(...pages.flatMap((page) => [...new DOMParser().parseFromString(page, "text/html").body.childNodes]));
  }

  buildAboard() {
    this.aboard = h("ul", {});
    const list = h("details", {}, h("summary", {}, this.words.aboard), h("p", { class: "quiet" }, this.words.aboard_help), this.aboard);
    return h("div", { class: "card" }, list);
  }

  buildCautions() {
    this.cautionList = h("ul", {});
    return h("div", { class: "card cautions" }, this.heading(this.words.safety), this.cautionList);
  }

  /** A button that asks once more, in the page, before it does anything. */
  askTwice(label, question, yes, no, act, warnings = () => []) {
    const ask = h("p", {});
    const warn = h("ul", {});
    const open = (visible) => {
      show(start, !visible);
      show(asked, visible);
      if (visible) warn.replaceChildren(...warnings().map((text) => h("li", {}, text)));
      (visible ? confirm : start).focus();
    };
    const start = this.button(label, () => open(true));
    const confirm = this.button(yes, () => { open(false); act(); }, { class: "strong" });
    const asked = h("div", { class: "ask", role: "group", "aria-label": question, hidden: true }, ask, warn, h("div", { class: "row" }, confirm, this.button(no, () => open(false))));
    asked.addEventListener("keydown", (event) => { if (event.key === "Escape") open(false); });
    write(ask, question);
    return { box: h("div", {}, start, asked), start };
  }

  /** What is shown instead of the work: which ticket, in use elsewhere, or trouble opening. */
  buildDoor() {
    const w = this.words;
    this.doorText = h("p", {});
    this.retry = this.button(w.try_again, () => this.send(PAGE, "retry"), { class: "strong" });
    this.ticketInput = h("input", { id: `${this.name}-ticket`, autocomplete: "off", autocapitalize: "characters", spellcheck: "false", maxlength: "40" });
    this.ticketBack = this.button(w.ticket_back, () => this.send(PAGE, "back"));
    this.ticketForm = h(
      "form", { onsubmit: (event) => { event.preventDefault(); this.send(PAGE, "ticket", { text: this.ticketInput.value }); } },
      this.heading(w.ticket_title), h("p", {}, w.ticket_help), h("label", { for: this.ticketInput.id }, w.ticket_label), this.ticketInput,
      h("div", { class: "row" }, h("button", { type: "submit", class: "press strong" }, w.ticket_do), this.button(w.ticket_fresh, () => this.send(PAGE, "fresh")), this.ticketBack),
    );
    this.door = h("div", { class: "card door" }, this.doorText, this.ticketForm, this.retry);
    return this.door;
  }

  // ---- drawing and the buttons over it ----------------------------------------------------------------------

  buildDrawing() {
    this.stage.querySelector("svg")?.remove();
    this.targets = {};
    this.shown = {};
    const source = this.model.get("skeleton");
    if (source) {
      const svg = document.importNode(new DOMParser().parseFromString(source, "image/svg+xml").documentElement, true);
      for (const node of [svg, ...svg.querySelectorAll("*")]) this.ownIds(node);
      svg.id = `${this.name}-sheet`;
      this.stage.prepend(svg);
      this.fillLens();
    }
    this.buildSpots();
  }

  /** Ids stay unique when the page holds two views. */
  ownIds(node) {
    if (node.id) {
      this.targets[node.id] = node;
      node.id = `${this.name}-${node.id}`;
    }
    const fill = node.getAttribute("fill");
    if (fill?.startsWith("url(#")) node.setAttribute("fill", fill.replace("url(#", `url(#${this.name}-`));
    const names = node.getAttribute("aria-labelledby");
    if (names) node.setAttribute("aria-labelledby", names.split(" ").map((name) => `${this.name}-${name}`).join(" "));
  }

  buildSpots() {
    this.spotButtons = {};
    const made = this.model.get("spots").map((spot) => {
      const lines = spot.lines.flatMap((line, i) => (i ? [" ", h("br"), line] : [line]));
      const label = h("span", { class: `label ${spot.align}`, "aria-hidden": "true" }, ...lines);
      const name = h("span", { class: "name" }, spot.name);
      label.style.left = `${((spot.label[0] - spot.box[0]) / spot.box[2]) * 100}%`;
      label.style.top = `${((spot.label[1] - spot.box[1]) / spot.box[3]) * 100}%`;
      const button = h("button", { type: "button", class: "spot", "data-part": spot.part, "aria-pressed": "false", tabindex: "-1", "aria-label": spot.name }, this.frameOf(spot), label, name);
      const [wide, high] = spot.sheet;
      this.stage.style.setProperty("--letters", `${(spot.size / wide) * 100}cqw`);
      this.leastStage = (LEAST_TARGET_PX / spot.least) * wide;
      Object.assign(button.style, {
        left: `${(spot.box[0] / wide) * 100}%`, top: `${(spot.box[1] / high) * 100}%`,
      });
      button.style.setProperty("--wide", `${(spot.box[2] / wide) * 100}%`);
      button.style.setProperty("--high", `${(spot.box[3] / high) * 100}%`);
      button.addEventListener("click", (event) => this.choose(spot.part, event.detail === 0));
      button.addEventListener("focus", () => this.rove(spot.part));
      this.spotButtons[spot.part] = button;
      return button;
    });
    this.spots.replaceChildren(...made);
    this.spots.onkeydown = (event) => this.moveAlong(event);
    if (made.length) made[0].tabIndex = 0;
    this.fit();
  }

  /** The frame that shows which part is chosen lies around its symbol and across no name. */
  frameOf(spot) {
    const frame = h("span", { class: "frame", "aria-hidden": "true" });
    const [x, y, width, height] = spot.box;
    Object.assign(frame.style, {
      left: `${((spot.frame[0] - x) / width) * 100}%`, top: `${((spot.frame[1] - y) / height) * 100}%`,
      width: `${(spot.frame[2] / width) * 100}%`, height: `${(spot.frame[3] / height) * 100}%`,
    });
    return frame;
  }

  /** The buttons lie over the drawing where they are large enough for a finger; else they stand under it. */
  fit() {
    const over = this.stage.clientWidth >= (this.leastStage ?? 0);
    this.stage.dataset.buttons = over ? "over" : "under";
  }

  choose(part, byKeyboard) {
    this.send(part, "choose", {}, byKeyboard ? () => (this.offers.querySelector("button") ?? this.partTitle).focus() : null);
  }

  rove(part) {
    for (const [name, button] of Object.entries(this.spotButtons)) button.tabIndex = name === part ? 0 : -1;
  }

  moveAlong(event) {
    const names = Object.keys(this.spotButtons);
    const here = names.findIndex((name) => this.spotButtons[name] === document.activeElement);
    const steps = { ArrowRight: here + 1, ArrowDown: here + 1, ArrowLeft: here - 1, ArrowUp: here - 1, Home: 0, End: names.length - 1 };
    if (here < 0 || !(event.key in steps)) return;
    event.preventDefault();
    this.spotButtons[names[(steps[event.key] + names.length) % names.length]].focus();
  }

  focusSpot(part) {
    const button = this.spotButtons[part] ?? Object.values(this.spotButtons)[0];
    button?.focus();
  }

  /** Shortcuts of the page around us must not see our plain keys. */
  keepKey(event) {
    this.wall.key(event, this.model.get("panel").present);
    if (!event.ctrlKey && !event.metaKey && !event.altKey) event.stopPropagation();
  }

  chosenPart() {
    return this.model.get("panel").chosen?.part ?? "";
  }

  // ---- writing what came back -------------------------------------------------------------------------------

  render() {
    const panel = this.model.get("panel");
    const atWork = panel.mode === "work";
    this.root.dataset.wall = panel.present ? panel.present.stage : "";
    show(this.wall.form, false);
    show(this.wall.bar, false);
    show(this.wall.care, false);
    if (panel.present) this.wall.render(panel.present);
    this.root.dataset.mode = panel.mode;
    if (!this.pending) this.alarm("");
    write(this.title, panel.title || this.words.bench);
    write(this.story, panel.story ?? "");
    write(this.caution, panel.cautions[0] ?? "");
    show(this.door, !atWork && !panel.present);
    show(this.work, atWork);
    show(this.facts, atWork);
    if (this.noticeLine.textContent !== panel.notice) this.say(panel.notice ?? "", panel.warning);
    if (!atWork) { if (!panel.present) this.renderDoor(panel); }
    else this.renderWork(panel);
    this.settle();
  }

  /** The drawing moves first; what was noticed stands there when the film is over. */
  renderWithFilm() {
    this.film?.end();
    const frames = this.model.get("film") ?? [];
    if (!frames.length || stillness() || !kept.get("film", "yes")) {
      this.render();
      return;
    }
    this.root.dataset.filming = "yes";
    this.film = new Film(frames, (changes) => this.paint(changes), (clock) => write(this.filmClock, clock), () => {
      this.film = null;
      delete this.root.dataset.filming;
      this.render();
    });
  }

  renderDoor(panel) {
    write(this.doorText, panel.message ?? "");
    show(this.ticketForm, panel.mode === "ticket");
    show(this.ticketBack, Boolean(panel.can_go_back));
    show(this.retry, panel.mode !== "ticket");
  }

  renderWork(panel) {
    this.renderScene();
    const facts = [`${this.words.clock} ${panel.clock}`, panel.engine, panel.lamps, panel.shore].filter(Boolean);
    if (this.facts.textContent !== facts.join("")) this.facts.replaceChildren(...facts.map((fact) => h("span", {}, fact)));
    write(this.inWords, panel.summary);
    show(this.xrayButton, panel.xray_allowed);
    write(this.xrayButton, this.words.xray);
    this.xrayButton.setAttribute("aria-pressed", String(panel.xray_on));
    write(this.key, panel.xray_on ? this.words.xray_key : panel.glass_bowl ? this.words.bowl_key : "");
    this.renderChosen(panel);
    this.renderNoticed(panel);
    this.renderDiagnosis(panel);
    this.renderEnd(panel);
    this.renderMarks(panel);
    this.renderPlots(panel);
    this.renderHelp(panel);
    list(this.aboard, panel.aboard);
    list(this.cautionList, panel.cautions);
  }

  renderScene() {
    this.paint(this.model.get("scene"));
  }

  paint(scene) {
    for (const [id, attributes] of Object.entries(scene)) {
      const node = this.targets[id];
      if (!node) continue;
      const seen = (this.shown[id] ??= {});
      for (const [key, value] of Object.entries(attributes)) {
        if (seen[key] === value) continue;
        seen[key] = value;
        if (key === "text") node.textContent = value;
        else node.setAttribute(key, value);
      }
    }
  }

  /** The copy under the lens is there only while it is looked at: keeping it up to date costs time at every click. */
  fillLens() {
    const svg = this.stage.querySelector("svg");
    if (!svg || !this.closer.open) {
      this.lens.replaceChildren();
      return;
    }
    const copy = document.createElementNS(SVG, "use");
    copy.setAttribute("href", `#${svg.id}`);
    const [, , wide, high] = svg.getAttribute("viewBox").split(" ");
    copy.setAttribute("width", wide);
    copy.setAttribute("height", high);
    this.lens.replaceChildren(copy);
  }

  /** A closer look at the chosen part: the same drawing, only larger. */
  lookCloser(part) {
    const spot = this.model.get("spots").find((one) => one.part === part);
    show(this.closer, Boolean(spot));
    if (!spot) return;
    const [x, y, width, height] = spot.frame;
    const wide = Math.max(width, height * LENS_SHAPE) * LENS_ROOM, high = wide / LENS_SHAPE;
    this.lens.setAttribute("viewBox", `${x + width / 2 - wide / 2} ${y + height / 2 - high / 2} ${wide} ${high}`);
  }

  renderChosen(panel) {
    const chosen = panel.chosen;
    this.lookCloser(chosen?.part);
    const looked = new Set(panel.looked_at ?? []);
    for (const [part, button] of Object.entries(this.spotButtons)) {
      button.setAttribute("aria-pressed", String(part === chosen?.part));
      button.toggleAttribute("data-looked", looked.has(part));
    }
    write(this.partTitle, chosen ? chosen.label : this.words.do_here);
    write(this.purpose, chosen ? chosen.purpose : `${this.words.choose} ${this.words.looked} ${this.words.choose_keys}`);
    list(this.inside, chosen?.inside ?? []);
    const offers = JSON.stringify(chosen ?? {});
    if (offers === this.offersShown) return;
    this.offersShown = offers;
    const buttons = [...this.offers.querySelectorAll("button")].filter((button) => !button.closest("[hidden]"));
    const had = buttons.indexOf(document.activeElement);
    const hadAction = document.activeElement?.dataset?.action;
    this.buildOffers(chosen);
    if (had >= 0) this.refocus(had, hadAction);
  }

  /** Of many things to do all headings stand first, and one of them is open; a few stand open under theirs. */
  buildOffers(chosen) {
    const offers = chosen?.offers ?? [];
    const headings = [...new Set(offers.map((offer) => offer.heading))];
    const kept = this.openAt?.part === chosen?.part && headings.includes(this.openAt?.heading);
    if (!kept) this.openAt = { part: chosen?.part, heading: headings[0] };
    const folded = headings.length > 1 && offers.length > FEW_OFFERS;
    this.groups = headings.map((heading, place) => {
      const some = offers.filter((offer) => offer.heading === heading);
      const said = new Map();
      const list = h("ul", { id: `${this.name}-group-${place}` }, ...some.map((offer) => this.offerItem(chosen.part, offer, said)));
      const title = folded ? this.groupButton(heading, some.length, list) : heading;
      return { heading, list, button: folded ? title : null, title: h("h4", {}, title) };
    });
    if (!folded) {
      this.offers.replaceChildren(...this.groups.flatMap((group) => [group.title, group.list]));
      return;
    }
    const titles = h("div", { class: "folds" }, ...this.groups.map((group) => group.title));
    this.offers.replaceChildren(titles, ...this.groups.map((group) => group.list));
    this.unfold(this.openAt.heading);
  }

  groupButton(heading, count, list) {
    return h("button", { type: "button", class: "fold", "aria-controls": list.id, onclick: () => this.unfold(heading) }, `${heading} (${count})`);
  }

  unfold(heading) {
    this.openAt.heading = heading;
    for (const group of this.groups) {
      const open = group.heading === heading;
      group.button.setAttribute("aria-expanded", String(open));
      show(group.list, open);
    }
  }

  refocus(place, action) {
    const now = [...this.offers.querySelectorAll("button")].filter((button) => !button.closest("[hidden]"));
    const same = now.find((button) => button.dataset.action === action);
    (same ?? now[Math.min(place, now.length - 1)] ?? this.partTitle).focus();
  }

  /** A caution that several actions share is written out once and pointed to by the others. */
  offerItem(part, offer, said) {
    const facts = h("span", { class: "small" }, offer.facts);
    const button = this.button(h("span", { class: "what" }, offer.label), () => this.send(part, offer.action), { "data-action": offer.action, class: "offer" });
    button.append(facts);
    if (!offer.caution) return h("li", {}, button);
    const before = said.get(offer.caution);
    const id = before ?? `${this.name}-care-${part}-${offer.action}`;
    said.set(offer.caution, id);
    button.setAttribute("aria-describedby", id);
    if (before) {
      button.append(h("span", { class: "care" }, this.words.care_above));
      return h("li", {}, button);
    }
    return h("li", {}, button, h("p", { class: "caution", id }, h("strong", {}, this.words.take_care), ` ${offer.caution}`));
  }

  renderNoticed() {
    const entries = this.model.get("noticed");
    if (entries.length < this.noticedShown) {
      this.noticedShown = 0;
      this.noticed.replaceChildren();
      this.evidence.replaceChildren();
      this.noteList.replaceChildren();
    }
    for (const entry of entries.slice(this.noticedShown)) {
      this.noticed.prepend(this.entryNode(entry));
      this.addEvidence(entry);
      if (entry.kind === "note") this.noteList.prepend(h("li", {}, h("span", { class: "at" }, entry.clock), ` ${entry.text}`));
    }
    this.noticedShown = entries.length;
    this.offerFilter(entries);
    show(this.noteList, this.noteList.childElementCount > 0);
    show(this.nothing, entries.length === 0);
    this.noticed.scrollTop = 0;
  }

  /** The parts of which something was noticed can be looked at alone. */
  offerFilter(entries) {
    const parts = [...new Set(entries.flatMap((entry) => entry.about))].sort();
    this.fillChoices(this.about, parts.map((part) => ({ id: part, label: part })), this.words.about_all);
    show(this.aboutLabel, parts.length > 1);
    this.filterNoticed();
  }

  filterNoticed() {
    const about = this.about.value;
    for (const node of this.noticed.children) show(node, !about || node.dataset.about.split("|").includes(about));
  }

  /** Something noticed, with a pin that ticks it as evidence. */
  seenNode(item) {
    const line = h("p", { class: "seen" }, item.sense ? h("span", { class: "sense" }, item.sense) : "", item.sense ? " " : "", item.text);
    if (!item.shows || !this.model.get("panel").faults.length) return line;
    const pin = h("button", { type: "button", class: "pin", "aria-pressed": "false", "aria-label": `${this.words.pin}: ${item.text}`, "data-same": `${item.where}: ${item.text}`, onclick: () => this.togglePin(pin.dataset.same) }, this.words.pin_short);
    return h("div", { class: "pinned" }, line, pin);
  }

  tickOf(same) {
    return [...this.evidence.children].find((row) => row.dataset.same === same)?.querySelector("input");
  }

  togglePin(same) {
    const box = this.tickOf(same);
    if (!box || this.model.get("panel").handed_in) return;
    box.checked = !box.checked;
    this.markUnkept();
  }

  /** Pins and ticks say the same. */
  agreePins() {
    for (const pin of this.noticed.querySelectorAll(".pin")) {
      pin.setAttribute("aria-pressed", String(Boolean(this.tickOf(pin.dataset.same)?.checked)));
      pin.disabled = Boolean(this.model.get("panel").handed_in);
    }
  }

  entryNode(entry) {
    const seen = entry.seen.map((item) => this.seenNode(item));
    const note = entry.text ? [h("p", { class: "seen" }, entry.text)] : [];
    return h("div", { class: `entry ${entry.kind}`, "data-about": entry.about.join("|") }, h("p", { class: "when" }, h("span", { class: "at" }, entry.clock), " ", entry.head), ...seen, ...note);
  }

  /** What was noticed again stands there once, as the newest; a tick it had stays. */
  addEvidence(entry) {
    for (const item of entry.seen.filter((one) => one.shows)) {
      const same = `${item.where}: ${item.text}`;
      const before = [...this.evidence.children].find((row) => row.dataset.same === same);
      const box = h("input", { type: "checkbox", value: String(item.n), onchange: () => this.markUnkept() });
      const earlier = before?.querySelector("input");
      box.checked = Boolean(earlier?.checked);
      box.dataset.all = earlier ? `${earlier.dataset.all} ${item.n}` : String(item.n);
      before?.remove();
      this.evidence.prepend(h("label", { class: "tick", "data-same": same }, box, h("span", {}, `${entry.clock} ${same}`)));
    }
  }

  renderDiagnosis(panel) {
    show(this.diagnosisCard, panel.faults.length > 0);
    this.fillChoices(this.whichPart, panel.parts);
    if (!this.whichFault.options.length) this.offerFaults();
    const some = this.evidence.childElementCount > 0;
    show(this.evidence, some);
    show(this.noEvidence, !some);
    const kept = JSON.stringify(panel.diagnosis);
    if (kept !== this.keptDiagnosis) {
      this.keptDiagnosis = kept;
      this.putDiagnosis(panel.diagnosis);
    }
    write(this.diagnosisNow, panel.diagnosis ? `${this.words.diagnosis_now} ${panel.diagnosis.text}` : this.words.diagnosis_none);
    this.diagnosisNow.className = panel.diagnosis ? "kept" : "quiet";
    show(this.diagnosisForm, !panel.handed_in);
    this.agreePins();
  }

  /** Of each part only some things can be said; all of them stand there once it is chosen, whatever is true. */
  offerFaults() {
    const part = this.whichPart.value;
    const faults = this.model.get("panel").faults.filter((fault) => fault.parts.includes(part));
    const before = this.whichFault.value;
    this.fillChoices(this.whichFault, faults, part ? this.words.not_chosen : this.words.part_first);
    this.whichFault.value = faults.some((fault) => fault.id === before) ? before : "";
  }

  fillChoices(select, choices, none = this.words.not_chosen) {
    const names = [none, ...choices.map((choice) => choice.id)].join(" ");
    if (select.dataset.names === names && select.options.length) return;
    select.dataset.names = names;
    const empty = h("option", { value: "" }, none);
    select.replaceChildren(empty, ...choices.map((choice) => h("option", { value: choice.id }, choice.label)));
  }

  putDiagnosis(diagnosis) {
    this.whichPart.value = diagnosis?.part ?? "";
    this.offerFaults();
    this.whichFault.value = diagnosis?.fault ?? "";
    const ticked = new Set((diagnosis?.evidence ?? []).map(String));
    for (const box of this.evidence.querySelectorAll("input")) box.checked = box.dataset.all.split(" ").some((n) => ticked.has(n));
    this.unkept = false;
    this.agreePins();
  }

  markUnkept() {
    this.unkept = true;
    this.agreePins();
  }

  keepDiagnosis() {
    const evidence = [...this.evidence.querySelectorAll("input:checked")].map((box) => Number(box.value)).sort((a, b) => a - b);
    const chosen = { which: this.whichPart.value, fault: this.whichFault.value, evidence };
    this.send(PAGE, "diagnose", chosen, () => { this.unkept = !this.model.get("panel").diagnosis; });
  }

  handInWarnings() {
    const warnings = [];
    if (!this.model.get("panel").diagnosis && this.model.get("panel").faults.length) warnings.push(this.words.hand_in_no_diagnosis);
    if (this.unkept) warnings.push(this.words.hand_in_unkept);
    for (const text of this.model.get("panel").left_undone) warnings.push(`${this.words.hand_in_left} ${text}`);
    return warnings;
  }

  renderEnd(panel) {
    show(this.handedIn, panel.handed_in);
    list(this.truth, panel.truth);
    show(this.truth, panel.truth.length > 0);
    show(this.handInCard, !panel.handed_in);
    show(this.ticketLine, Boolean(panel.ticket));
    write(this.ticketLine, `${this.words.ticket_is} ${panel.ticket}${panel.practice ? ` (${this.words.practice})` : ""}`);
    show(this.again.box, panel.can_start_again);
    show(this.againHelp, panel.can_start_again);
    write(this.again.start, panel.ticket ? this.words.again_fresh : this.words.again_same);
    show(this.otherTicket, Boolean(panel.ticket));
    this.noteButton.disabled = panel.handed_in;
    this.note.disabled = panel.handed_in;
  }
}

export default {
  initialize({ model }) {
    model.on("msg:custom", (message) => absorb(model, message));
  },
  render({ model, el }) {
    const view = model.get("words").own ? new OwnEngineView(model, el) : new View(model, el);
    return () => view.leave();
  },
};
