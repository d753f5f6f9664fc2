/** The whole page: the list of jobs, or one job; its shade and its language. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, state } from "lit/decorators.js";
import { keyed } from "lit/directives/keyed.js";
import { controls } from "../look/controls.ts";
import { readProgramWords } from "../texts/program.ts";
import { languageInUse, languages, say, setLanguage } from "../texts/say.ts";
import { fetchLaterWords, wordsCame } from "./later.ts";
import { tellAgain } from "./retelling.ts";
import "./job_list.ts";
import "./job_view.ts";

const SHADES = ["auto", "light", "dark", "sun"] as const;
type Shade = (typeof SHADES)[number];
const KEPT_AS = "fencewright-shade";

@customElement("fence-page")
export class FencePage extends LitElement {
  static override styles = [
    controls,
    css`
      :host { display: grid; grid-template-rows: auto 1fr; height: 100dvh; min-width: 0; }
      header { display: flex; gap: 0.5rem; align-items: center; padding: 0.25rem 0.6rem; border-bottom: 1px solid var(--line); }
      .home { color: var(--ink); font-weight: 700; text-decoration: none; min-height: 2.75rem; display: inline-flex; align-items: center; }
      header .home { margin-right: auto; }
      .settings { display: inline-flex; gap: 0.4rem; }
      main { grid-row: 2; min-height: 0; min-width: 0; overflow: auto; }
      select { min-height: 2.75rem; max-width: 8.5rem; text-overflow: ellipsis; }
    `,
  ];

  @state() private jobId = jobInAddress();
  @state() private shade: Shade = keptShade();
  @state() private language = languageInUse();
  @state() private isRead = false;
  /** Job kept at hand behind the list of jobs; as a rule none is. */
  private away = "";

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener("hashchange", this.moved);
    wordsCame.addEventListener("words", this.retold);
    document.documentElement.lang = this.language;
    this.showShade();
    void readProgramWords(this.language).then(() => {
      this.isRead = true;
      if (!this.jobId) void fetchLaterWords(this.language); // what refuses an import is among them
    });
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener("hashchange", this.moved);
    wordsCame.removeEventListener("words", this.retold);
  }

  /** A job that was left while its program was away stays at hand: it could not be read again. */
  private moved = (): void => {
    const open = this.renderRoot.querySelector("job-view");
    this.away = open?.isAlone ? open.jobId : "";
    this.jobId = jobInAddress();
  };

  private showShade(): void {
    if (this.shade === "auto") delete document.documentElement.dataset.shade;
    else document.documentElement.dataset.shade = this.shade;
    try {
      localStorage.setItem(KEPT_AS, this.shade);
    } catch {
      // it holds for this page alone
    }
    window.dispatchEvent(new Event("shade-changed"));
  }

  override render(): TemplateResult {
    return html`
      ${this.jobId && this.isRead ? nothing : html`<header>${this.home()}${this.settings()}</header>`}
      <main>${this.isRead ? this.inside() : nothing}</main>`;
  }

  /** The way back to the jobs: an open job has it in its own head, to leave the room to the drawing. */
  private home(): TemplateResult {
    return html`<a class="home" slot="home" href="#/">fencewright</a>`;
  }

  private settings(): TemplateResult {
    return html`<div class="settings" slot="settings">
        <label class="only-heard" for="shade">${say("shade")}</label>
        <select id="shade" @change=${(event: Event) => {
          this.shade = (event.target as HTMLSelectElement).value as Shade;
          this.showShade();
        }}>${SHADES.map((shade) => html`<option value=${shade} ?selected=${shade === this.shade}>${say(`shade_${shade}`)}</option>`)}</select>
        <label class="only-heard" for="language">${say("language")}</label>
        <select id="language" @change=${(event: Event) => void this.speak((event.target as HTMLSelectElement).value)}>${languages.map((code) => html`<option value=${code} ?selected=${code === this.language}>${new Intl.DisplayNames([code], { type: "language" }).of(code) ?? code}</option>`)}</select>
      </div>`;
  }

  private async speak(language: string): Promise<void> {
    await readProgramWords(language);
    setLanguage(language);
    this.language = languageInUse();
    this.retold();
    void fetchLaterWords(language);
  }

  private retold = (): void => tellAgain(this.renderRoot as ShadowRoot);

  private inside(): TemplateResult {
    const id = this.jobId || this.away;
    const view = html`<job-view .jobId=${id} ?hidden=${!this.jobId}>${this.jobId ? html`${this.home()}${this.settings()}` : nothing}</job-view>`;
    return html`${id ? keyed(id, view) : nothing}${this.jobId ? nothing : html`<job-list></job-list>`}`;
  }
}

function jobInAddress(): string {
  return /^#\/jobs\/([\w-]+)/.exec(location.hash)?.[1] ?? "";
}

function keptShade(): Shade {
  try {
    const kept = localStorage.getItem(KEPT_AS) as Shade | null;
    return kept && SHADES.includes(kept) ? kept : "auto";
  } catch {
    return "auto";
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "fence-page": FencePage;
  }
}
