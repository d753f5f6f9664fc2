/** The line between two parts of the view: dragged by a hand or moved by keys, it says how large the one beside it is. */

import { css, html, LitElement, type TemplateResult } from "lit";
import { customElement, property } from "lit/decorators.js";

const STEP_PX = 24;

/** Tells `divided` with the wanted size in pixels, and `folded` where it is pressed with Enter. */
@customElement("pane-divider")
export class PaneDivider extends LitElement {
  static override styles = css`
    :host { display: grid; place-items: center; position: relative; z-index: 3; background: var(--raised); touch-action: none; cursor: ew-resize; border-left: 1px solid var(--line); }
    :host([lies]) { cursor: ns-resize; border-left: 0; border-top: 1px solid var(--line); }
    :host(:focus-visible) { outline: 3px solid var(--accent); outline-offset: -2px; }
    i { width: 4px; height: 2.2rem; border-radius: 2px; background: var(--soft); }
    :host([lies]) i { width: 2.2rem; height: 4px; }
    :host(:hover) i, :host(:focus-visible) i { background: var(--accent); }
    @media (pointer: coarse) {
      :host::before { content: ""; position: absolute; width: 2.75rem; height: 5rem; }
      :host([lies])::before { width: 5rem; height: 2.75rem; }
    }
  `;

  /** It lies between a part above and one below. */
  @property({ type: Boolean, reflect: true }) lies = false;
  /** Measures the part after it; it is asked only when it is needed, since the page must be laid out for it. [pixels] */
  @property({ attribute: false }) measure: () => number = () => 0;
  /** Between what sizes that part may be. [pixels] */
  @property({ type: Number }) least = 0;
  @property({ type: Number }) most = 0;
  @property() words = "";
  private from: { at: number; size: number } | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    this.tabIndex = 0;
    this.setAttribute("role", "separator");
    this.addEventListener("keydown", this.keyed);
    this.addEventListener("focus", this.note);
    this.addEventListener("pointerdown", this.taken);
    this.addEventListener("pointermove", this.moved);
    this.addEventListener("pointerup", this.dropped);
    this.addEventListener("pointercancel", this.dropped);
  }

  override updated(): void {
    this.setAttribute("aria-orientation", this.lies ? "horizontal" : "vertical");
    this.setAttribute("aria-label", this.words);
    this.setAttribute("aria-valuemin", String(Math.round(this.least)));
    this.setAttribute("aria-valuemax", String(Math.round(this.most)));
  }

  override firstUpdated(): void {
    requestAnimationFrame(this.note);
  }

  private note = (): void => this.say(this.measure());

  private say(size: number): void {
    this.setAttribute("aria-valuenow", String(Math.round(size)));
  }

  private tell(size: number): void {
    const detail = Math.min(this.most, Math.max(this.least, size));
    this.say(detail);
    this.dispatchEvent(new CustomEvent("divided", { detail }));
  }

  private place(event: PointerEvent): number {
    return this.lies ? event.clientY : event.clientX;
  }

  private taken = (event: PointerEvent): void => {
    if (event.button !== 0) return;
    this.setPointerCapture(event.pointerId);
    this.from = { at: this.place(event), size: this.measure() };
  };

  private moved = (event: PointerEvent): void => {
    if (this.from) this.tell(this.from.size + this.from.at - this.place(event));
  };

  private dropped = (): void => {
    this.from = null;
  };

  private keyed = (event: KeyboardEvent): void => {
    const [more, less] = this.lies ? ["ArrowUp", "ArrowDown"] : ["ArrowLeft", "ArrowRight"];
    if (event.key === more) this.tell(this.measure() + STEP_PX);
    else if (event.key === less) this.tell(this.measure() - STEP_PX);
    else if (event.key === "Home") this.tell(this.least);
    else if (event.key === "End") this.tell(this.most);
    else if (event.key === "Enter") this.dispatchEvent(new CustomEvent("folded"));
    else return;
    event.preventDefault();
  };

  override render(): TemplateResult {
    return html`<i></i>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "pane-divider": PaneDivider;
  }
}
