/** Site files given to the job: lines, things in the way, ground; each is used by a press. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { api, type FilesAnswer, type JobState } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { worldExtent } from "../plan/terrain.ts";
import { say } from "../texts/say.ts";

type Given = FilesAnswer["given"][number];

@customElement("site-files")
export class SiteFiles extends LitElement {
  static override styles = [
    controls,
    css`.drop { border: 2px dashed var(--line); padding: 0.6rem; margin-bottom: 0.8rem; display: grid; gap: 0.5rem; } .drop.over { border-color: var(--accent); } ul { margin: 0; padding-left: 1.2rem; }`,
  ];

  @property() jobId = "";
  @property({ attribute: false }) state: JobState | null = null;
  @property({ type: Boolean }) locked = false;
  /** Metres in a unit of the plane, for a world file's numbers. */
  @property({ type: Number }) unit_m = 1;
  @property({ attribute: false }) kinds: readonly string[] = [];
  @state() private kind = "building";
  @state() private given: Given[] = [];
  @state() private refused = "";
  @state() private isOver = false;

  private async take(files: readonly File[]): Promise<void> {
    if (!this.state || files.length === 0) return;
    if (await this.takePicture(files)) return;
    try {
      const answer = await api.giveFiles(this.jobId, this.state.head, files);
      this.given = answer.given;
      this.refused = "";
      this.dispatchEvent(
        new CustomEvent("job-adopted", { detail: answer.state, bubbles: true, composed: true }),
      );
    } catch (error) {
      this.refused = error instanceof Error && error.message ? error.message : say("lost");
    }
  }

  /** A picture with its world file is laid under the plan, in this window alone; it goes nowhere. */
  private async takePicture(files: readonly File[]): Promise<boolean> {
    const picture = files.find((file) => /\.(png|jpe?g)$/i.test(file.name));
    if (!picture) return false;
    const world = files.find((file) => /\.(pgw|jgw|pngw|jpgw|wld)$/i.test(file.name));
    this.refused = world ? "" : say("picture_needs_world", { name: picture.name });
    if (!world) return true;
    const url = URL.createObjectURL(picture);
    try {
      const image = await createImageBitmap(picture);
      const extent = worldExtent(await world.text(), image.width, image.height, this.unit_m);
      if (extent)
        this.dispatchEvent(
          new CustomEvent("picture-given", { detail: { url, extent }, bubbles: true, composed: true }),
        );
      else this.refused = say("world_refused", { name: world.name });
    } catch {
      this.refused = say("picture_refused", { name: picture.name });
    }
    return true;
  }

  private use(edit: Record<string, unknown>): void {
    const answered = (refused: string) => {
      this.refused = refused;
    };
    this.dispatchEvent(
      new CustomEvent("edit-asked", {
        detail: { edit: { kind: "import_file", ...edit }, answered },
        bubbles: true,
        composed: true,
      }),
    );
  }

  override render(): TemplateResult {
    return html`<div class="drop ${this.isOver ? "over" : ""}"
        @dragover=${(event: DragEvent) => {
          event.preventDefault();
          this.isOver = true;
        }}
        @dragleave=${() => {
          this.isOver = false;
        }}
        @drop=${(event: DragEvent) => {
          event.preventDefault();
          this.isOver = false;
          void this.take([...(event.dataTransfer?.files ?? [])]);
        }}>
      <label class="button" for="site-file"><span>${say("site_files")}</span><input id="site-file" class="only-heard" type="file" multiple ?disabled=${this.locked} @change=${(event: Event) => void this.take([...((event.target as HTMLInputElement).files ?? [])])} /></label>
      ${this.state?.files.length ? html`<ul>${this.state.files.map((file) => html`<li>${file.path}</li>`)}</ul>` : nothing}
      ${this.given.map((file) => this.one(file))}
      ${this.refused ? html`<p class="refused" role="alert">${this.refused}</p>` : nothing}
    </div>`;
  }

  private one(file: Given): TemplateResult {
    const things = file.layers.some((layer) => layer.polygons.length || layer.points.length);
    return html`<div><strong>${file.path}</strong>
      ${
        things
          ? html`<label for="given-kind"><span>${say("obstacle_kind")}</span><select id="given-kind" @change=${(
              event: Event,
            ) => {
              this.kind = (event.target as HTMLSelectElement).value;
            }}>${this.kinds.map((kind) => html`<option value=${kind} ?selected=${kind === this.kind}>${kind}</option>`)}</select></label>`
          : nothing
      }<div class="row">
      ${file.is_ground ? html`<button @click=${() => this.use({ file: file.path, use: "ground" })}>${say("use_as_ground")}</button>` : nothing}
      ${file.layers.map(
        (layer) => html`
        ${layer.lines.map((feature) => html`<button @click=${() => this.use({ file: file.path, use: "line", layer: layer.layer, feature })}>${say("use_as_line", { name: feature || layer.layer || file.path })}</button>`)}
        ${[...layer.polygons, ...layer.points].map((feature) => html`<button @click=${() => this.use({ file: file.path, use: "obstacle", layer: layer.layer, feature, obstacle: this.kind })}>${say("use_as_obstacle", { name: feature || layer.layer || file.path })}</button>`)}`,
      )}
    </div></div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "site-files": SiteFiles;
  }
}
