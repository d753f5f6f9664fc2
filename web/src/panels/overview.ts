/** A drawing of the design as small as its place, the whole sheet of it; *Look* shows it larger. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { api, type OutputInfo } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { say } from "../texts/say.ts";
import type { OutputLook } from "./look.ts";
import type { Size } from "./look_sizes.ts";
import "./look.ts";

@customElement("drawing-overview")
export class DrawingOverview extends LitElement {
  static override styles = [
    controls,
    css`
      :host { display: block; margin: 0.5rem 0; }
      .sheet { overflow: hidden; }
      img { display: block; transform-origin: 0 0; background: #fff; }
    `,
  ];

  @property() jobId = "";
  @property({ type: Number }) head = 0;
  /** Name of the drawing among the outputs. */
  @property() name = "";
  /** What it shows, in the page's words. */
  @property() label = "";
  /** Size of its sheet; null until it is there. [px] */
  @state() private size: Size | null = null;
  @state() private width = 0;
  @query("output-look") private look!: OutputLook;
  private readonly resized = new ResizeObserver(() => {
    this.width = this.clientWidth;
  });

  override connectedCallback(): void {
    super.connectedCallback();
    this.resized.observe(this);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.resized.disconnect();
  }

  /** Laid out at its true size and drawn smaller: else it would take its narrow form, which is far longer. */
  override render(): TemplateResult {
    const { size, width } = this;
    const scale = size ? Math.min(1, width / size.width) : 0;
    const laid = size
      ? `width: ${size.width}px; height: ${size.height}px; transform: scale(${scale})`
      : "width: 0; height: 0";
    const output: OutputInfo = { name: this.name, media_type: "image/svg+xml" };
    return html`${size ? html`<p><button aria-haspopup="dialog" @click=${(event: Event) => void this.look.show(output, this.head, event.currentTarget as HTMLElement)}>${say("look")}</button></p>` : nothing}
      <div class="sheet" .style=${size ? `height: ${size.height * scale}px` : ""}><img alt=${this.label}
        src=${api.lookAddress(this.jobId, this.name, this.head)} .style=${laid} @load=${(event: Event) => {
          const { naturalWidth, naturalHeight } = event.currentTarget as HTMLImageElement;
          this.size = { width: naturalWidth, height: naturalHeight };
        }} /></div>
      <output-look .jobId=${this.jobId}></output-look>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "drawing-overview": DrawingOverview;
  }
}
