// form[data-drop]: a file let go anywhere on the form is the one that is chosen.
(() => {
  document.addEventListener('dragover', event => {
    if (event.target.closest?.('form[data-drop]')) event.preventDefault();
  });
  document.addEventListener('drop', event => {
    const form = event.target.closest?.('form[data-drop]');
    const field = form?.querySelector('input[type=file]');
    if (!field || !event.dataTransfer?.files.length) return;
    event.preventDefault();
    field.files = event.dataTransfer.files;
    field.dispatchEvent(new Event('change', {bubbles: true}));
    field.focus();
  });
})();
