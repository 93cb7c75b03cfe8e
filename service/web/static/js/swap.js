// Links, and forms that ask (get), marked data-swap="ID": fetch the page they lead to and put its pieces in place.
// Several ids are parted by spaces. data-in-place: Back does not go through each change.
// data-at-once: the form is sent as soon as it changes. data-say on a piece: what is read out.

const WAIT_MS = 150;
let asked = 0;
let shown = question();

export function swapOnActing(root) {
  root.addEventListener("click", onClick);
  root.addEventListener("submit", onSubmit);
  root.addEventListener("change", onChange);
  window.addEventListener("popstate", onWayBack);
}

const keep = () => {};
const add = (address) => history.pushState(null, "", address);
const replace = (address) => history.replaceState(null, "", address);

function onClick(event) {
  const link = event.target.closest("a[data-swap]");
  const plain = !(event.ctrlKey || event.metaKey || event.shiftKey || event.altKey || event.button);
  if (!link || !plain) return;
  event.preventDefault();
  load(link.href, link.dataset.swap.split(" "), add);
}

function onSubmit(event) {
  const form = event.target.closest("form[data-swap]");
  if (!form || form.method !== "get") return;
  event.preventDefault();
  const fields = new URLSearchParams(new FormData(form, event.submitter));
  const remember = "inPlace" in form.dataset ? replace : add;
  load(`${form.action}?${fields}`, form.dataset.swap.split(" "), remember);
}

// Back and forth between what this page put in place; a jump within the page is none of it.
function onWayBack() {
  if (question() !== shown) load(location.href, piecesOf(document.body), keep);
}

function question() {
  return location.pathname + location.search;
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
    remember(answer.url);
    shown = question();
    put(ids, page);
    document.title = page.title;
  } catch {
    location.assign(address);
  } finally {
    clearTimeout(slow);
    places.forEach((place) => place.classList.remove("busy"));
  }
}

// New pieces in place of old ones. What was unfolded stays unfolded; focus stays where it was, or
// goes to the new piece where its place is gone.
function put(ids, page) {
  const focused = document.activeElement;
  for (const id of ids) {
    const old = document.getElementById(id);
    const open = [...old.querySelectorAll("details[open][id]")].map((details) => details.id);
    const within = old.contains(focused);
    const fresh = document.adoptNode(page.getElementById(id));
    old.replaceWith(fresh);
    open.forEach((name) => document.getElementById(name)?.setAttribute("open", ""));
    if (within) focusAgain(focused.id, fresh);
    if (fresh.dataset.say) say(fresh.dataset.say);
  }
  document.dispatchEvent(new CustomEvent("swapped"));
}

function focusAgain(id, fresh) {
  const same = id && document.getElementById(id);
  if (!same) fresh.tabIndex = -1;
  (same || fresh).focus({ preventScroll: true });
}

function say(words) {
  const place = document.getElementById("said");
  if (place) place.textContent = words;
}
