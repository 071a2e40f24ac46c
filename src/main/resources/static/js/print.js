// [data-print]: a button that prints the page; without scripts the browser's own menu does.
document.querySelectorAll('[data-print]').forEach(button => {
  button.hidden = false;
  button.addEventListener('click', () => print());
});
