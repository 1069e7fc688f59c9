// What every page of the course shares: making elements, and following the page's light or dark.

/** Make an element: properties, then children (strings become text). */
function h(tag, props = {}, ...children) {
  const node = document.createElement(tag);
  for (const [key, value] of Object.entries(props)) {
    if (key.startsWith("on")) node.addEventListener(key.slice(2), value);
    else if (value === true) node.setAttribute(key, "");
    else if (value !== false && value !== null && value !== undefined) node.setAttribute(key, value);
  }
  node.append(...children.filter((child) => child !== null && child !== undefined));
  return node;
}

/** Keep an element told whether the page around it is dark; return what ends that. */
function watchDark(root) {
  const wanted = window.matchMedia("(prefers-color-scheme: dark)");
  const look = () => {
    const theme = document.body.dataset.jpThemeLight;
    root.dataset.dark = (theme ? theme === "false" : wanted.matches) ? "yes" : "no";
  };
  const watcher = new MutationObserver(look);
  watcher.observe(document.body, { attributes: true, attributeFilter: ["data-jp-theme-light"] });
  wanted.addEventListener("change", look);
  look();
  return () => { watcher.disconnect(); wanted.removeEventListener("change", look); };
}
