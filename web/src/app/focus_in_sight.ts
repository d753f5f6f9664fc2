/** What holds the keyboard's focus stays in sight where something comes later above it: a drawing, the next table. */

import type { LitElement, ReactiveController } from "lit";
import { focusedIn } from "./focused.ts";

const PANEL = ".panel";

export class FocusInSight implements ReactiveController {
  private panel: HTMLElement | null = null;
  /** What holds the focus within the panel, while it is in sight. */
  private seen: HTMLElement | null = null;
  private readonly grown = new ResizeObserver(() => this.keep());

  constructor(private readonly view: LitElement) {
    view.addController(this);
  }

  /** The panel scrolls; what is in it grows. */
  hostUpdated(): void {
    const panel = this.view.renderRoot.querySelector<HTMLElement>(PANEL);
    if (panel === this.panel) return;
    this.hostDisconnected();
    this.panel = panel;
    panel?.addEventListener("focusin", this.look);
    panel?.addEventListener("scroll", this.look, { passive: true });
    const inside = panel?.firstElementChild;
    if (inside) this.grown.observe(inside);
  }

  hostDisconnected(): void {
    this.grown.disconnect();
    this.panel?.removeEventListener("focusin", this.look);
    this.panel?.removeEventListener("scroll", this.look);
    this.panel = null;
    this.seen = null;
  }

  private get focused(): HTMLElement | null {
    return focusedIn(this.view.renderRoot as ShadowRoot);
  }

  /** A hand that scrolls away from what holds the focus is not called back to it. */
  private look = (): void => {
    const { focused, panel } = this;
    this.seen = focused && panel && isWithin(focused, panel) ? focused : null;
  };

  private keep(): void {
    const { seen, panel } = this;
    if (!seen || !panel || seen !== this.focused || isWithin(seen, panel)) return;
    seen.scrollIntoView({ block: "nearest" });
  }
}

/** Whether some of a part is in sight in its panel. */
function isWithin(part: Element, panel: Element): boolean {
  const box = part.getBoundingClientRect();
  const { top, bottom } = panel.getBoundingClientRect();
  return box.bottom > top && box.top < bottom;
}
