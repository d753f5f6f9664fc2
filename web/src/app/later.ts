/** Fetching the panels that come later: as soon as the drawing stands, so that they are there without the program too. */

let isComing = false;

/** Fetch them once; where the program cannot be reached they are asked for again the next time. */
export function fetchLaterPanels(): void {
  if (isComing) return;
  isComing = true;
  import("./later_panels.ts").catch(() => {
    isComing = false;
  });
}
