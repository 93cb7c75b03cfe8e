// Plus and minus beside a number move it at once; without this file they ask the service to.

export function stepInPlace(root) {
  root.addEventListener("click", (event) => {
    const button = event.target.closest("form[data-steps] button[name=step]");
    if (!button) return;
    const [name, by] = button.value.split("=");
    const input = button.form.elements[name];
    event.preventDefault();
    input.value = Number(((Number(input.value) || 0) + Number(by)).toFixed(3));
  });
}
