/** A paper or a drawing over the whole view: its pages to turn, nearer and farther, fitted to the view. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { keyed } from "lit/directives/keyed.js";
import { api, type OutputInfo, Refusal } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { inPage, langOfSaid } from "../texts/program.ts";
import { say } from "../texts/say.ts";
import { type LookPage, letGo, lookPages } from "./look_pages.ts";
import { type Fit, firstFit, fittedPercent, type Size, scrollsOn, stepped } from "./look_sizes.ts";
import { Panning } from "./panning.ts";

/** To a view of this width or less a drawing shows its narrow form. [px] */
const NARROW_VIEW_PX = 600;

/** What is looked at: a file of the job at one revision. */
interface Looked {
  output: OutputInfo;
  revision: number;
}

/** What a key does: it turns pages, where the view does not scroll on that way, or changes the size. */
interface KeyWay {
  turn?: 1 | -1;
  along?: "x" | "y";
  nearer?: 1 | -1;
  fit?: Fit;
}

const KEYS: Readonly<Record<string, KeyWay>> = {
  ArrowLeft: { turn: -1, along: "x" },
  ArrowRight: { turn: 1, along: "x" },
  PageUp: { turn: -1, along: "y" },
  PageDown: { turn: 1, along: "y" },
  "+": { nearer: 1 },
  "=": { nearer: 1 },
  "-": { nearer: -1 },
  "0": { fit: "width" },
};

@customElement("output-look")
export class OutputLook extends LitElement {
  static override styles = [
    controls,
    css`
      dialog { position: fixed; inset: 0; width: 100vw; height: 100vh; height: 100dvh; max-width: none; max-height: none; margin: 0; padding: 0; border: 0; background: var(--paper); color: var(--ink); }
      dialog[open] { display: grid; grid-template: auto minmax(0, 1fr) auto / minmax(0, 1fr); }
      .bar { display: flex; flex-wrap: wrap; gap: 0.5rem; align-items: center; padding: 0.4rem 0.6rem; }
      .head { border-bottom: 1px solid var(--line); }
      .foot { border-top: 1px solid var(--line); justify-content: center; column-gap: 1.5rem; }
      .group { display: flex; gap: 0.5rem; align-items: center; }
      h2 { flex: 1 1 6rem; margin: 0; overflow-wrap: anywhere; }
      .percent { min-width: 3.4rem; text-align: center; font-variant-numeric: tabular-nums; }
      button[aria-disabled="true"] { opacity: 0.55; cursor: default; }
      .sheet { position: relative; overflow: auto; scrollbar-gutter: stable; overscroll-behavior: contain; display: flex; padding: 0.5rem; background: var(--faint); }
      .sheet:focus-visible { outline-offset: -3px; }
      .page { flex: none; margin: auto; overflow: hidden; background: #fff; outline: 1px solid var(--line); }
      img { display: block; transform-origin: 0 0; user-select: none; cursor: grab; }
      img:active { cursor: grabbing; }
      .sheet > p { margin: auto; padding: 1rem; }
      .page + p { position: absolute; inset: 0; width: fit-content; height: fit-content; color: #566069; animation: appear 1ms 0.4s backwards; }
      @keyframes appear { from { visibility: hidden; } }
      @media (max-width: 30rem) {
        .foot { column-gap: 0.5rem; }
        .percent { display: none; }
        h2 { font-size: 0.95rem; }
        select { padding: 0 0.25rem; }
      }
    `,
  ];

  @property() jobId = "";
  @state() private looked: Looked | null = null;
  @state() private pages: readonly LookPage[] = [];
  @state() private page = 0;
  @state() private fit: Fit = "width";
  @state() private view: Size = { width: 0, height: 0 };
  @state() private isDrawn = false;
  @state() private refused = "";
  @query("dialog") private dialog!: HTMLDialogElement;
  @query(".sheet") private sheet!: HTMLElement | null;
  @query("img") private image!: HTMLImageElement | null;
  private opener: HTMLElement | null = null;
  private readonly panning = new Panning();
  private readonly resized = new ResizeObserver(() => this.measure());

  /** Show an output; the focus comes back to the opener once it is closed. */
  async show(output: OutputInfo, revision: number, opener: HTMLElement): Promise<void> {
    this.clear();
    this.looked = { output, revision };
    this.opener = opener;
    await this.updateComplete;
    this.dialog.showModal();
    if (!this.sheet) return;
    this.resized.observe(this.sheet);
    this.sheet.focus();
    await this.load(this.looked);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.clear();
  }

  private clear(): void {
    this.resized.disconnect();
    letGo(this.pages);
    this.looked = null;
    this.pages = [];
    this.page = 0;
    this.isDrawn = false;
    this.refused = "";
  }

  private async load(looked: Looked): Promise<void> {
    try {
      const pages = await lookPages(this.jobId, looked.output, looked.revision);
      if (this.looked !== looked) {
        letGo(pages);
        return;
      }
      this.pages = pages;
      this.measure();
      if (this.size) this.fit = firstFit(this.size, this.view);
    } catch (error) {
      if (this.looked !== looked) return;
      this.refused = error instanceof Refusal ? error.message || say("lost") : say("look_failed");
    }
  }

  /** True size of what is shown; null until it is known. [px] */
  private get size(): Size | null {
    const page = this.pages[this.page];
    return (this.view.width <= NARROW_VIEW_PX ? page?.narrow : null) ?? page?.size ?? null;
  }

  private measure(): void {
    const { sheet } = this;
    if (!sheet) return;
    const { paddingLeft, paddingTop } = getComputedStyle(sheet);
    const width = Math.floor(sheet.clientWidth - 2 * Number.parseFloat(paddingLeft));
    const height = Math.floor(sheet.clientHeight - 2 * Number.parseFloat(paddingTop));
    if (width !== this.view.width || height !== this.view.height) this.view = { width, height };
  }

  private get percent(): number {
    const { size } = this;
    return size ? fittedPercent(this.fit, size, this.view) : 100;
  }

  private turn(to: number): void {
    if (!this.pages[to] || to === this.page) return;
    const isBack = to < this.page;
    this.page = to;
    this.isDrawn = false;
    this.refused = "";
    void this.updateComplete.then(() => this.sheet?.scrollTo(0, isBack ? this.sheet.scrollHeight : 0));
  }

  /** Change the size; what is at a place of the screen, or in the middle of the view, stays there. */
  private async sizeTo(fit: Fit, at?: MouseEvent): Promise<void> {
    const before = this.image?.getBoundingClientRect();
    this.fit = fit;
    await this.updateComplete;
    const after = this.image?.getBoundingClientRect();
    if (!this.sheet || !before?.width || !after) return;
    const box = this.sheet.getBoundingClientRect();
    const x = at?.clientX ?? box.left + box.width / 2;
    const y = at?.clientY ?? box.top + box.height / 2;
    this.sheet.scrollLeft += after.left + ((x - before.left) / before.width) * after.width - x;
    this.sheet.scrollTop += after.top + ((y - before.top) / before.height) * after.height - y;
  }

  private nearer(by: 1 | -1, at?: MouseEvent): void {
    const { size } = this;
    if (size) void this.sizeTo(stepped(this.percent, by, size), at);
  }

  private keyed(event: KeyboardEvent): void {
    event.stopPropagation(); // the job behind hears nothing
    const way = KEYS[event.key];
    const [target] = event.composedPath();
    if (!way || event.ctrlKey || event.metaKey || event.altKey || target instanceof HTMLSelectElement) return;
    if (way.turn) {
      if (target === this.sheet && this.scrolls(way.along ?? "x", way.turn)) return;
      this.turn(this.page + way.turn);
    } else if (way.nearer) this.nearer(way.nearer);
    else if (way.fit) void this.sizeTo(way.fit);
    event.preventDefault();
  }

  private scrolls(along: "x" | "y", way: 1 | -1): boolean {
    const view = this.sheet;
    if (!view) return false;
    return along === "x"
      ? scrollsOn([view.scrollLeft, view.clientWidth, view.scrollWidth], way)
      : scrollsOn([view.scrollTop, view.clientHeight, view.scrollHeight], way);
  }

  private wheeled(event: WheelEvent): void {
    if (!event.ctrlKey) return;
    event.preventDefault();
    this.nearer(event.deltaY < 0 ? 1 : -1, event);
  }

  private closed(): void {
    const { opener } = this;
    this.clear();
    this.opener = null;
    opener?.focus();
  }

  override render(): TemplateResult {
    const { looked } = this;
    return html`<dialog aria-labelledby="name" @close=${() => this.closed()} @keydown=${(event: KeyboardEvent) => this.keyed(event)}>
      ${looked ? [this.head(looked), this.shown(looked), this.foot()] : nothing}
    </dialog>`;
  }

  private head({ output, revision }: Looked): TemplateResult {
    return html`<div class="bar head"><h2 id="name">${output.name}</h2>
      <a class="button" href=${api.outputAddress(this.jobId, output.name, revision)} download=${output.name}>${say("look_file")}</a>
      <button @click=${() => this.dialog.close()}>${say("look_close")}</button></div>`;
  }

  private shown(looked: Looked): TemplateResult {
    const said = this.refused
      ? html`<p class="refused" role="alert" lang=${langOfSaid(this.refused)}>${inPage(this.refused)}</p>`
      : html`${this.picture(looked)}${this.isDrawn ? nothing : html`<p>${say("look_follows")}</p>`}`;
    return html`<div class="sheet" tabindex="0" role="region" aria-label=${looked.output.name} aria-busy=${!this.isDrawn && !this.refused}
      @wheel=${{ handleEvent: (event: WheelEvent) => this.wheeled(event), passive: false }}
      @pointerdown=${(event: PointerEvent) => this.panning.take(event)} @pointermove=${(event: PointerEvent) => this.panning.move(event)}
      @pointerup=${() => this.panning.letGo()} @pointercancel=${() => this.panning.letGo()}>${said}</div>`;
  }

  /** A drawing is laid out at its true size and then drawn larger or smaller: so its form does not change with it. */
  private picture({ output }: Looked): TemplateResult | typeof nothing {
    const page = this.pages[this.page];
    const { size, percent } = this;
    if (!page || !size) return nothing;
    const scale = percent / 100;
    const [width, height] = [size.width * scale, size.height * scale];
    const box = boxStyle(width, height);
    const style = page.isDrawing ? `${boxStyle(size.width, size.height)}; transform: scale(${scale})` : box;
    const name = page.isDrawing
      ? output.name
      : say("look_picture", { name: output.name, page: this.where() });
    return html`<div class="page" .style=${box}>${keyed(
      this.page,
      html`<img src=${page.address(width)} alt=${name} draggable="false" .style=${style}
        @load=${() => {
          this.isDrawn = true;
        }} @error=${() => {
          this.refused = say("look_failed");
        }} />`,
    )}</div>`;
  }

  private where(): string {
    return say("look_page_of", { number: this.page + 1, count: this.pages.length });
  }

  private foot(): TemplateResult {
    const percent = `${Math.round(this.percent)} %`;
    const said = this.pages.length > 1 ? `${this.where()}, ${percent}` : percent;
    return html`<div class="bar foot">${this.pages.length > 1 ? this.turning() : nothing}
      <div class="group">
        <button aria-label=${say("farther")} @click=${() => this.nearer(-1)}>−</button>
        <span class="percent">${percent}</span>
        <button aria-label=${say("nearer")} @click=${() => this.nearer(1)}>+</button></div>
      <div class="group">
        <button aria-pressed=${this.fit === "width"} @click=${() => void this.sizeTo("width")}>${say("look_fit_width")}</button>
        <button aria-pressed=${this.fit === "whole"} @click=${() => void this.sizeTo("whole")}>${say("look_whole")}</button></div>
      <span class="only-heard" role="status">${this.size ? said : ""}</span></div>`;
  }

  private turning(): TemplateResult {
    const { page, pages } = this;
    const count = pages.length;
    return html`<div class="group">
      <button aria-label=${say("look_page_before")} aria-disabled=${page === 0} @click=${() => this.turn(page - 1)}>‹</button>
      <select aria-label=${say("look_page")} .value=${String(page)} @change=${(event: Event) => this.turn(Number((event.target as HTMLSelectElement).value))}>
        ${pages.map((_, place) => html`<option value=${place} ?selected=${place === page}>${say("look_page_of", { number: place + 1, count })}</option>`)}
      </select>
      <button aria-label=${say("look_page_after")} aria-disabled=${page === count - 1} @click=${() => this.turn(page + 1)}>›</button></div>`;
  }
}

function boxStyle(width: number, height: number): string {
  return `width: ${width}px; height: ${height}px`;
}

declare global {
  interface HTMLElementTagNameMap {
    "output-look": OutputLook;
  }
}
