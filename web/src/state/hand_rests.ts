/** Whether a hand is at work: what can wait begins once it rests, so that the next edit finds the machine free. */

let lastMoved = Number.NEGATIVE_INFINITY;
const note = (): void => {
  lastMoved = performance.now();
};
if (typeof window !== "undefined")
  for (const name of ["pointermove", "pointerdown", "keydown", "wheel"])
    window.addEventListener(name, note, { capture: true, passive: true });

/** Wait until no pointer has moved and no key was pressed for so long; at least so long from now. */
export async function handRests(rest_ms: number): Promise<void> {
  let left_ms = rest_ms;
  while (left_ms > 0) {
    await new Promise((rested) => setTimeout(rested, left_ms));
    left_ms = lastMoved + rest_ms - performance.now();
  }
}
