/** Every file of the design to take away, the drawings and papers with a preview, and one archive of all. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { api, type OutputInfo } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { say } from "../texts/say.ts";

@customElement("take-away")
export class TakeAway extends LitElement {
  static override styles = [
    controls,
    css`
      ul { list-style: none; margin: 0.6rem 0; padding: 0; display: grid; gap: 0.3rem; }
      li { display: flex; gap: 0.5rem; align-items: center; flex-wrap: wrap; }
      li > a.button { flex: 1 1 10rem; justify-content: start; }
      .preview { border: 1px solid var(--line); width: 100%; height: 70vh; background: #fff; }
      img.preview { height: auto; }
    `,
  ];

  @property() jobId = "";
  @property({ type: Number }) head = 0;
  @state() private outputs: OutputInfo[] = [];
  @state() private shown: OutputInfo | null = null;
  @state() private refused = "";
  @state() private isBusy = false;

  override updated(changed: Map<string, unknown>): void {
    if (changed.has("head") || changed.has("jobId")) void this.load();
  }

  private async load(): Promise<void> {
    const wanted = `${this.jobId} ${this.head}`;
    this.isBusy = true;
    try {
      const outputs = await api.outputs(this.jobId);
      if (wanted !== `${this.jobId} ${this.head}`) return;
      this.outputs = outputs;
      this.refused = "";
    } catch (error) {
      if (wanted !== `${this.jobId} ${this.head}`) return;
      this.refused = error instanceof Error && error.message ? error.message : say("lost");
    }
    this.isBusy = false;
  }

  override render(): TemplateResult {
    return html`<h2>${say("panel_take_away")}</h2>
      <div class="row"><a class="button" href=${api.archiveAddress(this.jobId)} download>${say("archive")}</a></div>
      ${this.refused ? html`<p class="refused" role="alert">${this.refused}</p>` : nothing}
      ${this.isBusy ? html`<p class="quiet" role="status">${say("files_follow")}</p>` : nothing}
      ${GROUPS.map((group, place) => {
        const outputs = this.outputs.filter((output) => groupOf(output) === place);
        return outputs.length ? html`<h3>${say(`files_${group}`)}</h3>${this.list(outputs)}` : nothing;
      })}
      ${this.shown ? this.preview(this.shown) : nothing}`;
  }

  private list(outputs: readonly OutputInfo[]): TemplateResult {
    return html`<ul>${outputs.map(
      (
        output,
      ) => html`<li><a class="button" href=${api.outputAddress(this.jobId, output.name)} download=${output.name}>${output.name}</a>
        ${
          canShow(output)
            ? html`<button aria-pressed=${this.shown?.name === output.name} @click=${() => {
                this.shown = this.shown?.name === output.name ? null : output;
              }}>${say("look")}</button>`
            : nothing
        }</li>`,
    )}</ul>`;
  }

  private preview(output: OutputInfo): TemplateResult {
    const address = api.lookAddress(this.jobId, output.name, this.head);
    return output.media_type.startsWith("image/")
      ? html`<img class="preview" src=${address} alt=${output.name} />`
      : html`<iframe class="preview" src=${address} title=${output.name}></iframe>`;
  }
}

const GROUPS = ["papers", "drawings", "tables", "data"] as const;

/** Papers for people first, then drawings, tables, and what other programs read. */
function groupOf({ name }: OutputInfo): number {
  if (/\.(pdf|html)$/.test(name)) return 0;
  if (/\.(svg|dxf)$/.test(name)) return 1;
  return /\.(csv|xlsx)$/.test(name) ? 2 : 3;
}

function canShow(output: OutputInfo): boolean {
  return output.media_type.startsWith("image/svg") || output.media_type === "application/pdf";
}

declare global {
  interface HTMLElementTagNameMap {
    "take-away": TakeAway;
  }
}
