/** Keys that the whole view hears, and the arrows that walk a row of tabs. */

/** Undo and redo as everywhere: Ctrl or Cmd with Z, with Shift for redo; null for any other key, and while text is typed. */
export function undoKey(event: KeyboardEvent): "undo" | "redo" | null {
  if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z" || isTyping(event)) return null;
  return event.shiftKey ? "redo" : "undo";
}

/** Focus the next or the previous of the tabs in sight and press it. */
export function tabKeyed(event: KeyboardEvent): void {
  const step = event.key === "ArrowRight" ? 1 : event.key === "ArrowLeft" ? -1 : 0;
  const list = event.currentTarget as HTMLElement;
  if (!step) return;
  const all = [...list.querySelectorAll<HTMLElement>('[role="tab"]')];
  const tabs = all.filter((each) => each.offsetParent !== null);
  const place = tabs.indexOf(event.target as HTMLElement);
  const next = tabs[(place + step + tabs.length) % tabs.length];
  next?.focus();
  next?.click();
  event.preventDefault();
}

function isTyping(event: KeyboardEvent): boolean {
  const [target] = event.composedPath();
  return target instanceof HTMLInputElement || target instanceof HTMLTextAreaElement;
}
