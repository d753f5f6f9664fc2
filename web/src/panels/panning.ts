/** A mouse takes hold of a picture and moves it within its view; a finger does so by itself. */

export class Panning {
  private at: { x: number; y: number } | null = null;

  /** The mouse takes hold, where it is over the picture and not over a scroll bar. */
  take(event: PointerEvent): void {
    if (event.pointerType !== "mouse" || event.button !== 0 || !(event.target instanceof HTMLImageElement))
      return;
    (event.currentTarget as HTMLElement).setPointerCapture(event.pointerId);
    this.at = { x: event.clientX, y: event.clientY };
  }

  move(event: PointerEvent): void {
    if (!this.at) return;
    const view = event.currentTarget as HTMLElement;
    view.scrollLeft -= event.clientX - this.at.x;
    view.scrollTop -= event.clientY - this.at.y;
    this.at = { x: event.clientX, y: event.clientY };
  }

  letGo(): void {
    this.at = null;
  }
}
