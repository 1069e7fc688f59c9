// The overview on the start page: a sentence, a link, a table. It asks for news whenever it comes into view.

/** Where a page of the course is: the course's server says where it serves pages; elsewhere from the folder beside. */
function href(page) {
  const settings = document.getElementById("jupyter-config-data");
  return settings ? `${JSON.parse(settings.textContent).baseUrl}doc/tree/${page}` : `../${page}`;
}

class ProgressView {
  constructor(model, host) {
    Object.assign(this, { model, words: model.get("words") });
    this.root = h("section", { class: "fuel-bench progress-page", lang: "en", "aria-label": this.words.overview, "data-ready": "no" });
    host.append(this.root);
    this.render = this.render.bind(this);
    for (const name of ["sentence", "on", "rows"]) model.on(`change:${name}`, this.render);
    this.watcher = new IntersectionObserver((seen) => { if (seen.some((one) => one.isIntersecting)) model.send({ action: "look" }); });
    this.watcher.observe(this.root);
    this.stopWatching = watchDark(this.root);
    this.render();
    this.root.dataset.ready = "yes";
  }

  leave() {
    for (const name of ["sentence", "on", "rows"]) this.model.off?.(`change:${name}`, this.render);
    this.watcher.disconnect();
    this.stopWatching();
    this.root.remove();
  }

  render() {
    const { words: w, model } = this;
    const on = model.get("on");
    const go = on ? h("p", {}, h("a", { class: "press strong go-on", href: href(on) }, w.go)) : null;
    const heads = [w.page, w.minutes, w.state, w.marks].map((text) => h("th", { scope: "col" }, text));
    const rows = model.get("rows").map((row) => h(
      "tr", { class: row.lesson ? "lesson" : "exercise" },
      h("th", { scope: "row" }, h("a", { href: href(row.page) }, row.title)),
      h("td", {}, String(row.minutes)), h("td", {}, row.state), h("td", {}, ...row.marks.map((text) => h("div", {}, text))),
    ));
    const table = h("table", {}, h("thead", {}, h("tr", {}, ...heads)), h("tbody", {}, ...rows));
    const open = this.root.querySelector("details")?.open ?? false;
    const all = h("details", {}, h("summary", {}, w.table), table);
    all.open = open;
    this.root.replaceChildren(h("p", { class: "kept", role: "status" }, model.get("sentence")), ...(go ? [go] : []), all);
  }
}

export default {
  render({ model, el }) {
    const view = new ProgressView(model, el);
    return () => view.leave();
  },
};
