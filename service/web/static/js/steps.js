// Plus and minus beside a number move it at once; without this file they ask the service to.
// Whoever comes back to the foretold number has measured it: its box is ticked.

export function stepInPlace(root) {
  root.addEventListener("click", (event) => {
    const button = event.target.closest("form[data-steps] button[name=step]");
    if (!button) return;
    const [name, by] = button.value.split("=");
    const input = button.form.elements[name];
    event.preventDefault();
    input.value = Number(((Number(input.value) || 0) + Number(by)).toFixed(3));
    tickWhereForetold(input);
  });
  root.addEventListener("input", (event) => {
    if (event.target.matches("form[data-steps] input[type=number]")) tickWhereForetold(event.target);
  });
}

function tickWhereForetold(input) {
  const { elements } = input.form;
  const foretold = elements[`foretold_${input.name}`];
  if (foretold) elements[`same_${input.name}`].checked = input.value === foretold.value;
}
