/** Work that nobody waits for: done once what is to be seen has been drawn. */

/** Act in a task of its own after the next frame; where the page is hidden, which draws none, in the next task. */
export function afterFrame(act: () => void): void {
  if (document.hidden) setTimeout(act);
  else requestAnimationFrame(() => setTimeout(act));
}
