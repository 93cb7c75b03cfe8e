// Says beside the button what is ticked in the form above: data-picked="#form".

export function tellPicked(root) {
  root.addEventListener("change", (event) => {
    if (event.target.matches("[data-name]")) tell();
  });
  root.addEventListener("swapped", tell);
  tell();
}

function tell() {
  for (const place of document.querySelectorAll("[data-picked]")) {
    const ticked = document.querySelectorAll(`${place.dataset.picked} [data-name]:checked`);
    const names = [...ticked].map((input) => input.dataset.name);
    if (names.length) place.textContent = names.join(" · ");
  }
}
