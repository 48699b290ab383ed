// Keeps what is typed on a sheet on this device until it is saved: an error, a lost
// signal or a flat battery loses nothing.
(() => {
  "use strict";

  const read = (name) => {
    try { return JSON.parse(localStorage.getItem(name)); } catch { return null; }
  };
  const keep = (name, draft) => {
    try { localStorage.setItem(name, JSON.stringify(draft)); } catch { /* no room: the page still holds it */ }
  };
  const drop = (name) => {
    try { localStorage.removeItem(name); } catch { /* nothing kept */ }
  };
  const fields = (form) => [...form.elements].filter(
    (field) => field.name && !["hidden", "submit", "button"].includes(field.type));

  function day(moment) {
    const told = new Date(moment);
    const part = (options) => new Intl.DateTimeFormat("en-GB", options).format(told);
    return `${part({ weekday: "short" })} ${told.getDate()} ${part({ month: "short" })} ${told.getFullYear()}, ${part({ hour: "2-digit", minute: "2-digit" })}`;
  }

  function begin(form) {
    if (form.dataset.begun) return;
    form.dataset.begun = "yes";
    const name = form.dataset.draft;
    const key = form.elements.namedItem("key");
    const first = new Map(fields(form).map((field) => [field.name, field.value]));
    const said = document.querySelector("[data-draft-said]");
    const noSignal = document.querySelector("[data-no-signal]");

    let draft = read(name);
    if (draft && draft.key && draft.key === form.dataset.saved) {
      drop(name);
      draft = null;
    }
    if (draft) fill(draft);

    function fill(kept) {
      let filled = 0;
      for (const field of fields(form)) {
        const typed = kept.typed[field.name];
        if (typed !== undefined && typed !== field.value) {
          field.value = typed;
          filled += 1;
        }
      }
      // The same key again: what did arrive is not taken twice.
      if (kept.key) key.value = kept.key;
      if (filled && said) {
        const words = filled === 1 ? "1 entry" : `${filled} entries`;
        said.querySelector("[data-draft-words]").textContent =
          `${words} typed ${day(kept.at)} on this device ${filled === 1 ? "is" : "are"} not saved yet. Filled in again below.`;
        said.hidden = false;
      }
    }

    function note() {
      const typed = {};
      for (const field of fields(form)) {
        if (field.value !== first.get(field.name)) typed[field.name] = field.value;
      }
      if (Object.keys(typed).length) keep(name, { key: key.value, at: Date.now(), typed });
      else drop(name);
    }

    form.addEventListener("input", note);
    form.addEventListener("change", note);
    form.addEventListener("htmx:sendError", (event) => {
      if (event.target !== form) return;
      noSignal.hidden = false;
      noSignal.scrollIntoView({ block: "center" });
    });
    form.addEventListener("htmx:beforeRequest", (event) => {
      if (event.target === form) noSignal.hidden = true;
    });
    said?.querySelector("[data-draft-drop]").addEventListener("click", () => {
      drop(name);
      for (const field of fields(form)) field.value = first.get(field.name);
      said.hidden = true;
    });
  }

  const start = () => document.querySelectorAll("form[data-draft]").forEach(begin);
  document.addEventListener("DOMContentLoaded", start);
  document.addEventListener("htmx:afterSettle", start);
  if (document.readyState !== "loading") start();
})();
