/* A prebuilt JupyterLab extension written by hand: it dresses a course page (page.css), opens
 * its benches without a click, and keeps what the learner writes on disk.
 *
 * It opens benches only on a page whose own metadata asks for it, whose every bench is trusted (the launcher or the server signed
 * it), and when the page's bench is not on show yet or its Python process has just started anew.
 */
(function () {
  "use strict";
  const NAME = "fuelcourse-open";
  const HERE = document.currentScript.src;
  const SAVE_AFTER_MS = 3000;
  const shared = {};
  const keepers = new WeakMap();

  function dress() {
    const link = document.createElement("link");
    link.rel = "stylesheet";
    link.href = new URL("page.css", HERE).href;
    document.head.append(link);
  }

  function hideSideBars(app) {
    for (const side of ["left", "right"]) {
      if (app.shell.isSideTabBarVisible && app.shell.isSideTabBarVisible(side)) {
        app.shell.toggleSideTabBarVisibility(side);
      }
    }
  }

  async function provide(scope, name) {
    const versions = Object.values(scope[name] || {});
    if (!versions.length) {
      throw new Error(NAME + ": JupyterLab offers no " + name);
    }
    return (await versions[0].get())();
  }

  function wants(panel) {
    const asked = panel.content.model && panel.content.model.getMetadata("fuelcourse");
    return Boolean(asked && asked.open_benches);
  }

  function benches(panel) {
    return Array.from(panel.content.model.cells).filter((cell) => cell.type === "code");
  }

  async function isFresh(panel) {
    const future = panel.sessionContext.session.kernel.requestExecute({ code: "", silent: true, store_history: false });
    const reply = await future.done;
    return !reply.content.execution_count;
  }

  /* JupyterLab builds a page's cells one after the other; on a busy machine the last may come late. */
  async function builtCells(panel) {
    while (panel.content.widgets.length < panel.content.model.cells.length) {
      await new Promise((resolve) => window.setTimeout(resolve, 20));
    }
  }

  /* Not JupyterLab's own "run all": that one moves the reader to the foot of the page. */
  async function runQuietly(panel) {
    await builtCells(panel);
    const cells = panel.content.widgets.filter((cell) => cell.model.type === "code");
    await Promise.all(cells.map((cell) => shared.cells.CodeCell.execute(cell, panel.sessionContext)));
  }

  async function openBenches(panel) {
    await panel.context.ready;
    await panel.sessionContext.ready;
    if (!wants(panel) || !panel.sessionContext.session || !panel.sessionContext.session.kernel) {
      return;
    }
    const cells = benches(panel);
    const onShow = cells.every((cell) => cell.outputs.length > 0);
    if (cells.every((cell) => cell.trusted) && (!onShow || (await isFresh(panel)))) {
      await runQuietly(panel);
    }
    panel.node.dataset.fuelcourseOpened = String(1 + Number(panel.node.dataset.fuelcourseOpened || 0));
  }

  /* JupyterLab opens a text at a double click but leaves the keys elsewhere: let the reader write at once. */
  function writeAtDoubleClick(panel) {
    const write = () => {
      const cell = panel.content.activeCell;
      if (wants(panel) && cell && cell.model.type === "markdown" && !cell.rendered) {
        panel.content.mode = "edit";
        void cell.ready.then(() => cell.editor.focus());
      }
    };
    panel.content.node.addEventListener("dblclick", () => window.requestAnimationFrame(write));
  }

  function reopenAfterRestart(panel) {
    let restarting = false;
    panel.sessionContext.statusChanged.connect((_, status) => {
      if (status === "restarting" || status === "autorestarting") {
        restarting = true;
      }
      if (status === "autorestarting" && wants(panel)) {
        window.queueMicrotask(() => shared.apputils.Dialog.flush());
      }
      if (restarting && status === "idle" && wants(panel)) {
        restarting = false;
        void openBenches(panel).then(() =>
          shared.apputils.Notification.info(
            "The bench had stopped and was opened again. Everything you did is in your logbook and still counts.",
            { autoClose: 8000 }
          )
        );
      }
    });
  }

  /* Saves one page: a few seconds after a change, when the learner leaves the answer, and at the button; one save at a
   * time. JupyterLab's own saving is not used: it calls a page saved although something was written while the save was
   * under way, and its button stays grey when the page was shown before its file had come. */
  class Keeper {
    constructor(panel) {
      this.panel = panel;
      this.changes = 0;
      this.asked = 0;
      this.queued = false;
      this.timer = 0;
      this.queue = Promise.resolve();
      this.word = document.createElement("span");
      this.word.setAttribute("role", "status");
      this.word.className = "fuelcourse-saved";
      panel.toolbar.insertAfter("course-save", "course-saved", new shared.widgets.Widget({ node: this.word }));
      panel.content.node.addEventListener("focusout", () => this.saveChanges());
      void panel.context.ready.then(() => panel.context.model.contentChanged.connect(() => this.noteChange()));
    }

    noteChange() {
      this.changes += 1;
      this.say("Not saved yet");
      this.timer = this.timer || window.setTimeout(() => this.saveChanges(), SAVE_AFTER_MS);
    }

    saveChanges() {
      if (this.changes > this.asked && !this.panel.isDisposed) {
        void this.save();
      }
    }

    save() {
      window.clearTimeout(this.timer);
      this.timer = 0;
      this.say("Saving");
      if (!this.queued) {
        this.queued = true;
        this.queue = this.queue.then(() => this.saveOnce());
      }
      return this.queue;
    }

    async saveOnce() {
      const context = this.panel.context;
      await context.ready;
      this.queued = false;
      if (!context.contentsModel || !context.contentsModel.writable) {
        this.say("Not saved: the file of this page may not be written");
        return;
      }
      const until = (this.asked = this.changes);
      try {
        await context.save();
      } catch (problem) {
        console.warn(NAME + ": the page was not saved", problem);
        this.asked = -1;
        this.say("Not saved: press Save to try again");
        return;
      }
      if (this.changes > until) {
        context.model.dirty = true;
      } else if (!this.queued) {
        this.say("Saved");
      }
    }

    say(words) {
      if (this.word.textContent !== words) {
        this.word.textContent = words;
      }
    }
  }

  function keepSaved(panel) {
    const keeper = new Keeper(panel);
    keepers.set(panel, keeper);
    document.addEventListener("visibilitychange", () => keeper.saveChanges());
  }

  function addSaving(app, tracker) {
    app.commands.addCommand(NAME + ":save", {
      label: "Save",
      caption: "Save what you wrote on this page",
      execute: () => tracker.currentWidget && keepers.get(tracker.currentWidget).save(),
    });
    app.commands.addKeyBinding({ command: NAME + ":save", keys: ["Accel S"], selector: ".jp-NotebookPanel" });
    shared.notebook.NotebookActions.executed.connect((_, { notebook, cell }) => {
      const panel = tracker.find((one) => one.content === notebook);
      if (panel && cell.model.type === "markdown") {
        keepers.get(panel).saveChanges();
      }
    });
  }

  function plugin() {
    return {
      id: NAME + ":plugin",
      description: "Opens the benches of a trusted course page without a click and keeps what is written saved.",
      autoStart: true,
      requires: [shared.notebook.INotebookTracker],
      activate: (app, tracker) => {
        dress();
        app.commands.addCommand(NAME + ":again", {
          label: "Open the bench again",
          execute: () => tracker.currentWidget && runQuietly(tracker.currentWidget),
        });
        addSaving(app, tracker);
        void app.restored.then(() => hideSideBars(app));
        tracker.widgetAdded.connect((_, panel) => {
          keepSaved(panel);
          reopenAfterRestart(panel);
          writeAtDoubleClick(panel);
          void openBenches(panel);
        });
      },
    };
  }

  const container = {
    init: async (scope) => {
      shared.scope = scope;
    },
    get: async () => {
      shared.notebook = await provide(shared.scope, "@jupyterlab/notebook");
      shared.apputils = await provide(shared.scope, "@jupyterlab/apputils");
      shared.cells = await provide(shared.scope, "@jupyterlab/cells");
      shared.widgets = await provide(shared.scope, "@lumino/widgets");
      const module = { __esModule: true, default: plugin() };
      return () => module;
    },
  };
  window._JUPYTERLAB = window._JUPYTERLAB || {};
  window._JUPYTERLAB[NAME] = container;
})();
