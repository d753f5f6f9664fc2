/** The focus of the keyboard is never lost: where what held it goes away, it comes to what is shown instead. */

import type { LitElement, ReactiveController } from "lit";
import { focusedIn } from "./focused.ts";

const TOOL = '.tools [aria-pressed="true"]';
const PANEL = ".panel";
const TAB = '[role="tab"][aria-selected="true"]';

export class FocusKept implements ReactiveController {
  /** What held the focus before the change, and the part of the view that it was in. */
  private held: HTMLElement | null = null;
  private part: Element | null = null;

  constructor(private readonly view: LitElement) {
    view.addController(this);
  }

  hostUpdate(): void {
    const root = this.view.renderRoot as ShadowRoot | undefined;
    this.part = root?.activeElement ?? null;
    this.held = root ? focusedIn(root) : null;
  }

  /** A browser takes the focus from what is hidden or gone with the next frame. */
  hostUpdated(): void {
    const { held, part } = this;
    if (held && part) requestAnimationFrame(() => requestAnimationFrame(() => this.settle(held, part)));
  }

  private settle(held: HTMLElement, part: Element): void {
    const isThere = held.isConnected && held.offsetParent !== null;
    if (isThere || document.activeElement !== document.body) return;
    const isOfPanel = part.closest(`${PANEL}, .side, .picked`) !== null || !part.isConnected;
    for (const place of part.localName === "draw-form" || !isOfPanel ? [TOOL, PANEL, TAB] : [PANEL, TAB]) {
      const found = this.view.renderRoot.querySelector<HTMLElement>(place);
      if (!found || found.offsetParent === null) continue;
      found.focus({ preventScroll: true });
      return;
    }
  }
}
