// A thumb that rests on a button is taken for the wish for a menu, and no click comes of it: it presses the button all the same.
"use strict";
{
  const REST_MS = 400;
  let resting = null;
  const touched = (event) => event.pointerType === "touch" && event.target.closest?.("button");
  addEventListener("contextmenu", (event) => touched(event) && event.preventDefault());
  addEventListener("pointerdown", (event) => (resting = { button: touched(event), since: event.timeStamp }));
  for (const end of ["pointercancel", "click"]) addEventListener(end, () => (resting = null), true);
  addEventListener("pointerup", ({ clientX, clientY, timeStamp }) => {
    const rested = resting;
    if (!rested?.button || timeStamp - rested.since < REST_MS) return;
    if (!rested.button.contains(document.elementFromPoint(clientX, clientY))) return;
    // Some browsers do send the click, right after this.
    setTimeout(() => rested === resting && rested.button.click(), 100);
  });
}
