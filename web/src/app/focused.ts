/** What holds the keyboard's focus, in whatever shadow it lies. */

export function focusedIn(root: DocumentOrShadowRoot): HTMLElement | null {
  let deepest = root.activeElement;
  while (deepest?.shadowRoot?.activeElement) deepest = deepest.shadowRoot.activeElement;
  return deepest as HTMLElement | null;
}
