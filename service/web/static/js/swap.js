// Links and forms marked data-swap="ID": fetch the page they lead to and put its pieces in place.
// Several ids are parted by spaces. data-at-once: the form is sent as soon as it changes.

const WAIT_MS = 150;
let asked = 0;

export function swapOnActing(root) {
  root.addEventListener("click", onClick);
  root.addEventListener("submit", onSubmit);
  root.addEventListener("change", onChange);
  window.addEventListener("popstate", () => load(location.href, piecesOf(document.body), false));
}

function onClick(event) {
  const link = event.target.closest("a[data-swap]");
  const plain = !(event.ctrlKey || event.metaKey || event.shiftKey || event.altKey || event.button);
  if (!link || !plain) return;
  event.preventDefault();
  load(link.href, link.dataset.swap.split(" "), true);
}

function onSubmit(event) {
  const form = event.target.closest("form[data-swap]");
  if (!form) return;
  event.preventDefault();
  const question = new URLSearchParams(new FormData(form, event.submitter));
  load(`${form.action}?${question}`, form.dataset.swap.split(" "), true);
}

function onChange(event) {
  const form = event.target.closest("form[data-at-once]");
  if (form) form.requestSubmit();
}

// All pieces of this page that may change.
function piecesOf(root) {
  const marked = [...root.querySelectorAll("[data-swap]")];
  return [...new Set(marked.flatMap((element) => element.dataset.swap.split(" ")))];
}

async function load(address, ids, remember) {
  const turn = ++asked;
  const places = ids.map((id) => document.getElementById(id)).filter(Boolean);
  const slow = setTimeout(() => places.forEach((place) => place.classList.add("busy")), WAIT_MS);
  try {
    const answer = await fetch(address, { headers: { accept: "text/html" } });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (turn !== asked) return;
    const whole = ids.every((id) => document.getElementById(id) && page.getElementById(id));
    if (!whole || !ids.length) {
      location.assign(address);
      return;
    }
    if (remember) history.pushState(null, "", answer.url);
    replace(ids, page);
    document.title = page.title;
  } catch {
    location.assign(address);
  } finally {
    clearTimeout(slow);
  }
}

// New pieces in place of old ones; what was unfolded stays unfolded, and focus stays where it was.
function replace(ids, page) {
  const focused = document.activeElement && document.activeElement.id;
  for (const id of ids) {
    const old = document.getElementById(id);
    const open = [...old.querySelectorAll("details[open][id]")].map((details) => details.id);
    const fresh = document.adoptNode(page.getElementById(id));
    old.replaceWith(fresh);
    open.forEach((name) => document.getElementById(name)?.setAttribute("open", ""));
  }
  if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
  document.dispatchEvent(new CustomEvent("swapped"));
}
