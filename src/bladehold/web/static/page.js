// What HTML alone cannot do: form and text of a sheet in step, undo, charts, sliders, tasks that are followed.
"use strict";

(() => {
const one = (query, from = document) => from.querySelector(query);
const all = (query, from = document) => [...from.querySelectorAll(query)];

const asked = async (path, method, body) => {
  const answer = await fetch(path, { method, headers: { "content-type": "application/json" }, body: JSON.stringify(body) });
  return [answer, await answer.json()];
};

// Charts. Their expressions are interpreted: the page's policy lets no text be run as script.
let library;
const charts = () => {
  library ??= new Promise((done, failed) => {
    const script = document.createElement("script");
    script.src = "/static/charts.js";
    script.onload = () => done(window.vegaEmbed);
    script.onerror = failed;
    document.head.append(script);
  });
  return library;
};
const draw = async (place, chart) => {
  const embed = await charts();
  const board = document.createElement("div");
  await embed(board, chart, { renderer: "svg", actions: false, ast: true, logLevel: 1, defaultStyle: false, tooltip: { disableDefaultStyle: true } });
  // Its hundreds of marks are no text: the picture has one name, and the numbers stand in tables.
  const picture = one("svg", board);
  for (const mark of all("[role], [aria-roledescription]", picture)) for (const name of ["role", "aria-label", "aria-roledescription"]) mark.removeAttribute(name);
  picture.setAttribute("role", "img");
  picture.setAttribute("aria-label", place.getAttribute("aria-label"));
  place.replaceChildren(board);
};
const say = (place, words) => {
  const line = document.createElement("p");
  line.className = "notice";
  line.textContent = words;
  place.replaceChildren(line);
};

// The workbench.
const bench = one("#bench");
if (bench) {
  const text = one("#text"), saveButton = one("#save"), saved = one("#saved"), notice = one("#notice");
  const name = bench.dataset.name, path = `/api/sheets/${encodeURIComponent(name)}`, drafts = `bladehold:${name}:`;
  const engine = document.createElement("form");
  let draft, mark = bench.dataset.mark, fileText = text.value, seq = 0, textSeq = 0, waiting, good = true, leaving = false;
  const dirty = new Map(); // key -> [value, seq]: typed into a field, not yet in the text
  const past = [text.value];
  let now = 0;

  engine.hidden = true;
  for (const [key, value] of Object.entries({ "hx-post": `${bench.dataset.at}/look`, "hx-trigger": "look", "hx-target": "#results", "hx-swap": "innerHTML", "hx-sync": "this:queue last" })) engine.setAttribute(key, value);
  bench.append(engine);
  htmx.process(engine);

  const inputs = new Map(all("[data-key]").map((input) => [input.dataset.key, input]));
  const tell = () => {
    const same = text.value === fileText && !dirty.size;
    saveButton.disabled = same;
    saved.textContent = same ? "as in the file" : "not saved yet";
    one("#undo").disabled = now === 0;
    one("#redo").disabled = now === past.length - 1;
    if (!draft) return;
    if (same) localStorage.removeItem(draft);
    else localStorage.setItem(draft, JSON.stringify({ text: text.value, mark, dirty: [...dirty].map(([key, [value]]) => [key, value]) }));
  };
  const look = (delay = 70) => {
    clearTimeout(waiting);
    waiting = setTimeout(() => htmx.trigger(engine, "look"), delay);
    tell();
  };
  const remember = (value) => {
    if (value === past[now]) return;
    past.splice(now + 1, past.length, value);
    if (past.length > 300) past.shift();
    now = past.length - 1;
  };
  const go = (step) => {
    now = Math.min(Math.max(now + step, 0), past.length - 1);
    dirty.clear();
    text.value = past[now];
    textSeq = ++seq;
    look(0);
  };

  text.addEventListener("input", () => { textSeq = ++seq; look(); });
  for (const [key, input] of inputs) input.addEventListener("input", () => { dirty.set(key, [input.value, ++seq]); look(); });
  one("#undo").addEventListener("click", () => go(-1));
  one("#redo").addEventListener("click", () => go(1));

  const values = () => JSON.stringify(Object.fromEntries([...dirty].map(([key, [value]]) => [key, value])));
  document.body.addEventListener("htmx:configRequest", (event) => {
    const parameters = event.detail.parameters, source = event.detail.elt;
    if (!bench.contains(source)) return;
    parameters.text = text.value;
    if (source === engine) parameters.seq = seq;
    if (source.id === "sliders") parameters.tried = JSON.stringify(tried());
    else parameters.values = values();
  });

  let before = JSON.parse(one("#sync").dataset.sync);
  const standing = (sync, key) => `${sync.values[key] ?? ""}|${sync.assumed[key] ?? ""}`;
  const follow = (sync) => {
    good = sync.ok;
    one("#stale").hidden = good;
    if (sync.toml && textSeq <= sync.seq) {
      // What was typed by then is in the text of the answer; what was typed since goes with the next one.
      for (const [key, [, at]] of [...dirty]) if (at <= sync.seq) dirty.delete(key);
      if (text.value !== sync.text) {
        const { selectionStart, selectionEnd, scrollTop } = text;
        text.value = sync.text;
        text.setSelectionRange(selectionStart, selectionEnd);
        text.scrollTop = scrollTop;
      }
      remember(sync.text);
    }
    for (const [key, input] of inputs) {
      if (sync.toml && !dirty.has(key) && input !== document.activeElement) {
        const value = sync.values[key] ?? "";
        if (input.value !== value) {
          if (input.tagName === "SELECT" && ![...input.options].some((each) => each.value === value)) input.add(new Option(value));
          input.value = value;
        }
      }
      const wrong = sync.errors[key] ?? "", row = input.closest(".field");
      one(".error", row).textContent = wrong;
      row.classList.toggle("wrong", wrong !== "");
      if (wrong) {
        input.setAttribute("aria-invalid", "true");
        for (let box = row.parentElement; box && box !== bench; box = box.parentElement) if (box.tagName === "DETAILS" && !box.open && document.activeElement !== text) box.open = true;
      } else input.removeAttribute("aria-invalid");
      if (good && input.tagName === "INPUT") {
        const assumed = sync.assumed[key];
        input.dataset.example ??= input.placeholder.startsWith("assumed: ") ? "" : input.placeholder;
        input.placeholder = assumed ? `assumed: ${assumed}` : input.dataset.example;
      }
    }
    // A slider stands on what the sheet says now, which may have been typed, undone or taken from elsewhere.
    if (good) {
      for (const each of all("[data-slider]")) {
        const key = each.dataset.slider;
        if (standing(before, key) !== standing(sync, key)) htmx.ajax("POST", `${bench.dataset.at}/slider`, { source: each, target: each.closest(".slider"), swap: "outerHTML", values: { key } });
      }
      before = sync;
    }
    for (const count of all("[data-errors]")) count.textContent = sync.wrong[count.dataset.errors] ? `${sync.wrong[count.dataset.errors]} wrong` : "";
    one("#elsewhere").replaceChildren(...sync.elsewhere.map((words) => Object.assign(document.createElement("p"), { textContent: words })));
    tell();
    if (good) htmx.trigger(one("#drawing"), "redraw");
    if (good) for (const figure of all(".figure[open]")) if (figure.dataset.picture) show(figure); else htmx.trigger(figure, "toggle");
  };

  let open = [];
  document.body.addEventListener("htmx:beforeSwap", (event) => {
    if (event.detail.target.id === "results") open = all(".results details[open]").map((each) => each.id).filter(Boolean);
  });
  document.body.addEventListener("htmx:afterRequest", (event) => {
    if (event.detail.elt !== engine) return;
    if (!event.detail.successful) {
      if (event.detail.xhr.status) say(one("#elsewhere"), event.detail.xhr.status === 422 ? one("main p", new DOMParser().parseFromString(event.detail.xhr.responseText, "text/html"))?.textContent ?? "that cannot be used" : "the server did not answer as it should");
      else if (event.detail.failed) saved.textContent = "the server does not answer; what you typed is kept here";
      return;
    }
    for (const ident of open) document.getElementById(ident)?.setAttribute("open", "");
    follow(JSON.parse(one("#sync").dataset.sync));
  });
  document.body.addEventListener("htmx:sendError", () => { saved.textContent = "the server does not answer; what you typed is kept here"; });

  // Links within the page open what they lead to.
  bench.addEventListener("click", (event) => {
    const link = event.target.closest(".results a[href^='#']");
    if (link) one(link.getAttribute("href"))?.setAttribute("open", "");
  });

  // Saving, and what happens when somebody else did.
  const clash = one("#clash");
  let theirs;
  const settled = async () => {
    clearTimeout(waiting);
    // What is under way may have begun before the last letter: then once more.
    for (let turn = 0; dirty.size && turn < 3; turn++) {
      await new Promise((done) => { document.body.addEventListener("htmx:afterSettle", done, { once: true }); htmx.trigger(engine, "look"); setTimeout(done, 3000); });
    }
  };
  const save = async () => {
    await settled();
    const mine = text.value;
    try {
      const [answer, words] = await asked(path, "PUT", { text: mine, began_with: mark });
      if (answer.status === 409) {
        theirs = words;
        one("#difference").textContent = words.difference;
        clash.showModal();
      } else if (answer.ok) {
        mark = words.mark;
        fileText = mine;
        tell();
        saved.textContent = "saved; the text before is kept as a copy";
      } else say(notice, words.said), (notice.hidden = false);
    } catch { saved.textContent = "the server does not answer; what you typed is kept here"; }
  };
  saveButton.addEventListener("click", save);
  document.addEventListener("keydown", (event) => {
    if ((event.ctrlKey || event.metaKey) && event.key === "s") { event.preventDefault(); save(); }
  });
  one("#keep-mine").addEventListener("click", () => { mark = theirs.mark; clash.close(); save(); });
  one("#take-theirs").addEventListener("click", () => {
    remember(text.value);
    dirty.clear();
    mark = theirs.mark;
    text.value = fileText = theirs.text;
    remember(theirs.text);
    textSeq = ++seq;
    clash.close();
    document.activeElement.blur(); // what has the focus is not overwritten, and here it must be
    look(0);
  });
  one("#not-now").addEventListener("click", () => clash.close());
  addEventListener("beforeunload", (event) => { if (!leaving && !saveButton.disabled) event.preventDefault(); });

  // What was typed and not saved before the page was left: of this tab, else of one that is closed. Tabs that
  // are open keep to their own.
  const ownTab = async () => {
    let tab = sessionStorage.getItem("bladehold-tab") ?? crypto.randomUUID?.() ?? String(Math.random());
    const hold = (ident) => new Promise((done) => {
      if (!navigator.locks) done(true);
      else navigator.locks.request(`bladehold-tab-${ident}`, { ifAvailable: true }, (lock) => { done(lock !== null); return lock && new Promise(() => {}); });
    });
    if (!(await hold(tab))) { tab = crypto.randomUUID(); await hold(tab); } // a tab that was doubled has the same
    sessionStorage.setItem("bladehold-tab", tab);
    return tab;
  };
  const orphan = async () => {
    if (!navigator.locks) return null;
    const held = new Set((await navigator.locks.query()).held.map((lock) => lock.name));
    return Object.keys(localStorage).find((key) => key.startsWith(drafts) && !held.has(`bladehold-tab-${key.slice(drafts.length)}`)) ?? null;
  };
  const restore = async () => {
    const mine = drafts + await ownTab();
    const from = localStorage.getItem(mine) ? mine : await orphan();
    const left = from && seq === 0 ? JSON.parse(localStorage.getItem(from)) : null;
    if (left && from !== mine) localStorage.removeItem(from);
    draft = mine;
    if (left && (left.text !== text.value || left.dirty.length)) {
      text.value = left.text;
      for (const [key, value] of left.dirty) if (inputs.has(key)) { inputs.get(key).value = value; dirty.set(key, [value, ++seq]); }
      textSeq = ++seq;
      notice.textContent = left.mark === mark ? "What you had typed and not saved is back. Undo goes to the file's text." : "What you had typed and not saved is back, but the file was changed since: saving will show the difference. Undo goes to the file's text.";
      notice.hidden = false;
      mark = left.mark;
      look(0);
    } else tell();
  };
  restore();

  // Charts of the sheet.
  const show = async (figure) => {
    const place = one(".canvas", figure);
    try {
      const [answer, found] = await asked(`${path}/pictures/${figure.dataset.picture}`, "POST", { text: text.value, values: JSON.parse(values()) });
      if (answer.ok) await draw(place, found.chart);
      else say(place, found.said);
    } catch { say(place, "the chart could not be drawn"); }
  };
  for (const figure of all(".figure[data-picture]")) figure.addEventListener("toggle", () => { if (figure.open) show(figure); });

  // Sliders.
  const sliders = one("#sliders");
  const tried = () => Object.fromEntries(all("[data-slider]", sliders).filter((each) => each.value !== each.dataset.saved).map((each) => [each.dataset.slider, `${each.value} ${each.dataset.unit}`.trim()]));
  sliders.addEventListener("input", (event) => {
    const slider = event.target.closest("[data-slider]");
    if (slider) one("output", slider.parentElement).textContent = `${slider.value} ${slider.dataset.unit}`;
    const moved = Object.keys(tried()).length > 0;
    one("#take-over").disabled = one("#back").disabled = !moved;
  });
  sliders.addEventListener("submit", (event) => event.preventDefault());
  one("#back").addEventListener("click", () => {
    for (const each of all("[data-slider]", sliders)) { each.value = each.dataset.saved; one("output", each.parentElement).textContent = `${each.value} ${each.dataset.unit}`; }
    sliders.dispatchEvent(new Event("input", { bubbles: true }));
  });
  one("#take-over").addEventListener("click", () => {
    for (const [key, value] of Object.entries(tried())) {
      dirty.set(key, [value, ++seq]);
      if (inputs.has(key)) inputs.get(key).value = value;
      all("[data-slider]", sliders).filter((each) => each.dataset.slider === key).forEach((each) => { each.dataset.saved = each.value; });
    }
    one("#take-over").disabled = one("#back").disabled = true;
    look(0);
  });
  one("#another").addEventListener("change", (event) => {
    const key = event.target.value;
    event.target.value = "";
    event.stopPropagation();
    if (key && !all("[data-slider]").some((each) => each.dataset.slider === key)) htmx.ajax("POST", `${bench.dataset.at}/slider`, { source: one("#slider-rows"), target: "#slider-rows", swap: "beforeend", values: { key } });
  });

  // Tasks begin with the text as it is typed.
  for (const form of all("form[data-ask]")) {
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      settled().then(() => {
        for (const [key, value] of Object.entries({ sheet: name, text: text.value })) {
          const field = one(`input[name="${key}"]`, form) ?? Object.assign(document.createElement("input"), { type: "hidden", name: key });
          field.value = value;
          form.append(field);
        }
        return fetch("/tasks", { method: "POST", body: new URLSearchParams(new FormData(form)) });
      }).then(async (answer) => {
        if (answer.redirected) { leaving = true; location.assign(answer.url); return; }
        const page = new DOMParser().parseFromString(await answer.text(), "text/html");
        one(".error", form).textContent = one("[role=alert]", page)?.textContent ?? one("main p", page)?.textContent ?? "that cannot be asked";
      }).catch(() => { one(".error", form).textContent = "the server does not answer"; });
    });
    form.addEventListener("input", () => { one(".error", form).textContent = ""; });
  }
  one("#one-more").addEventListener("change", (event) => {
    const lines = one("#vary");
    lines.value = [...lines.value.split("\n").filter((line) => line.trim()), event.target.value].join("\n");
    event.target.value = "";
    lines.focus();
  });
  tell();
}

// A task that runs.
const running = one("#running");
if (running) {
  const bar = one("#bar"), told = one("#told"), began = Date.now();
  const events = new EventSource(running.dataset.events);
  events.onmessage = (event) => {
    const task = JSON.parse(event.data);
    if (task.state !== "running") { events.close(); location.reload(); return; }
    if (!task.of) return;
    bar.max = task.of;
    bar.value = task.done;
    const left = task.done ? ((Date.now() - began) / 1000) * (task.of / task.done - 1) : 0;
    told.textContent = `${task.done} of ${task.of}${task.done ? `, about ${Math.ceil(left)} s left` : ""}`;
  };
}

// Charts of pages that are finished.
const finished = (from) => all("[data-chart]", from).forEach((place) => {
  fetch(place.dataset.chart).then((answer) => answer.json()).then((found) => draw(place, found.charts[Number(place.dataset.place ?? 0)])).catch(() => say(place, "the chart could not be drawn"));
});
finished(document);
document.body.addEventListener("htmx:afterSwap", (event) => finished(event.detail.target));
})();
