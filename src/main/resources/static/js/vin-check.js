// [data-vin-check]: says under the VIN field what the VIN tells: check digit, model year, a car that has it already.
(() => {
for (const place of document.querySelectorAll("[data-vin-check]")) {
  const field = place.querySelector("input");
  const says = place.querySelector("[data-vin-says]");
  let last = "";
  const ask = async () => {
    const vin = field.value.trim();
    if (vin === last) return;
    last = vin;
    if (vin.length < 11) {
      says.replaceChildren();
      return;
    }
    try {
      const answer = await fetch(`${place.dataset.vinCheck}?vin=${encodeURIComponent(vin)}`, { headers: { "HX-Request": "true" } });
      if (answer.ok && field.value.trim() === vin) {
        const page = new DOMParser().parseFromString(await answer.text(), "text/html");
        says.replaceChildren(...page.body.childNodes);
      }
    } catch {
      says.replaceChildren();
    }
  };
  field.addEventListener("change", ask);
  field.addEventListener("input", () => {
    if (field.value.trim().length === 17) ask();
  });
  ask();
}
})();
