/** The whole page: the list of jobs, or one job; its shade and its language. */

import { css, html, LitElement, type TemplateResult } from "lit";
import { customElement, state } from "lit/decorators.js";
import { keyed } from "lit/directives/keyed.js";
import { controls } from "../look/controls.ts";
import { languageInUse, languages, say, setLanguage } from "../texts/say.ts";
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
      header a { color: var(--ink); font-weight: 700; text-decoration: none; min-height: 2.75rem; display: inline-flex; align-items: center; margin-right: auto; }
      main { min-height: 0; min-width: 0; overflow: auto; }
      select { min-height: 2.75rem; max-width: 8.5rem; text-overflow: ellipsis; }
    `,
  ];

  @state() private jobId = jobInAddress();
  @state() private shade: Shade = keptShade();
  @state() private language = languageInUse();

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener("hashchange", this.moved);
    document.documentElement.lang = this.language;
    this.showShade();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener("hashchange", this.moved);
  }

  private moved = (): void => {
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
      <header>
        <a href="#/">fencewright</a>
        <label class="only-heard" for="shade">${say("shade")}</label>
        <select id="shade" @change=${(event: Event) => {
          this.shade = (event.target as HTMLSelectElement).value as Shade;
          this.showShade();
        }}>${SHADES.map((shade) => html`<option value=${shade} ?selected=${shade === this.shade}>${say(`shade_${shade}`)}</option>`)}</select>
        <label class="only-heard" for="language">${say("language")}</label>
        <select id="language" @change=${(event: Event) => {
          setLanguage((event.target as HTMLSelectElement).value);
          this.language = languageInUse();
        }}>${languages.map((code) => html`<option value=${code} ?selected=${code === this.language}>${new Intl.DisplayNames([code], { type: "language" }).of(code) ?? code}</option>`)}</select>
      </header>
      <main>${this.inside()}</main>`;
  }

  /** A change of language builds the view anew, so that every text is read again. */
  private inside(): unknown {
    const view = this.jobId ? html`<job-view .jobId=${this.jobId}></job-view>` : html`<job-list></job-list>`;
    return keyed(`${this.language} ${this.jobId}`, view);
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
