/** Site files given to the job: lines, things in the way, ground, backgrounds; each is used by a press. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { api, type JobState } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { type Backgrounds, backgroundsOf } from "../state/backgrounds.ts";
import { inPage, langOf } from "../texts/program.ts";
import { say } from "../texts/say.ts";
import type { EditAsked } from "./asking.ts";
import { canBeLine, featuresOf, featureWords, type Given, type Layer } from "./given_features.ts";
import { refusedWhole, type Told, toldOf } from "./refused.ts";
import "./background_list.ts";

/** Features of a file that each have a button of their own; with more of them, one is chosen from a list. */
const MOST_BUTTONS = 6;

@customElement("site-files")
export class SiteFiles extends LitElement {
  static override styles = [
    controls,
    css`
      .drop { border: 2px dashed var(--line); padding: 0.6rem; margin-bottom: 0.8rem; display: grid; gap: 0.5rem; }
      .drop > * { min-width: 0; }
      ul { margin: 0; padding-left: 1.2rem; }
      li, strong { overflow-wrap: anywhere; }
      button { white-space: normal; text-align: left; overflow-wrap: anywhere; max-width: 100%; }
    `,
  ];

  @property() jobId = "";
  @property({ attribute: false }) state: JobState | null = null;
  @property({ type: Boolean }) locked = false;
  @property({ attribute: false }) kinds: readonly string[] = [];
  @state() private kind = "building";
  @state() private given: readonly Given[] = [];
  @state() private refused: Told | null = null;
  @state() private isGiving = false;
  @state() private tick = 0;
  /** Which feature of a file with many is chosen, by the file. */
  private readonly picked = new Map<string, string>();
  /** Files that were asked about since they were no background. */
  private readonly lookedAt = new Set<string>();
  private backgrounds: Backgrounds | null = null;

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.hear(null);
  }

  override willUpdate(changed: Map<string, unknown>): void {
    if (changed.has("jobId") || !this.backgrounds) this.hear(this.jobId ? backgroundsOf(this.jobId) : null);
    if (changed.has("state") && this.state) this.backgrounds?.follow(this.state);
  }

  override updated(): void {
    this.takeHanded();
  }

  private hear(backgrounds: Backgrounds | null): void {
    this.backgrounds?.removeEventListener("change", this.changed);
    this.backgrounds?.removeEventListener("handed", this.takeHanded);
    this.backgrounds = backgrounds;
    this.lookedAt.clear();
    backgrounds?.addEventListener("change", this.changed);
    backgrounds?.addEventListener("handed", this.takeHanded);
  }

  private changed = (): void => {
    this.tick += 1;
    // one that is no background may be something else
    const others = [...(this.backgrounds?.answers.values() ?? [])].filter(({ kind }) => kind === "none");
    const unknown = others.filter(({ path }) => !this.lookedAt.has(path));
    for (const { path } of unknown) this.lookedAt.add(path);
    if (unknown.length && !this.isGiving) void this.lookAgain();
  };

  private takeHanded = (): void => {
    const { backgrounds } = this;
    if (!backgrounds?.handed.length || !this.state) return;
    const files = backgrounds.handed;
    backgrounds.handed = [];
    void this.take(files);
  };

  private async take(files: readonly File[]): Promise<void> {
    const { state } = this;
    if (!state || files.length === 0) return;
    await this.asking(async () => {
      const answer = await api.giveFiles(this.jobId, state.head, files);
      this.given = answer.given;
      this.dispatchEvent(
        new CustomEvent("job-adopted", { detail: answer.state, bubbles: true, composed: true }),
      );
      this.backgrounds?.follow(answer.state);
      for (const file of answer.given) void this.lookAt(file);
    });
  }

  /** Say once more what the files given before can be. */
  private lookAgain = async (): Promise<void> => {
    await this.asking(async () => {
      this.given = await api.lookAtFiles(this.jobId);
    });
  };

  private async asking(question: () => Promise<void>): Promise<void> {
    this.isGiving = true;
    this.refused = null;
    try {
      await question();
    } catch (error) {
      this.refused = toldOf(error);
    }
    this.isGiving = false;
  }

  /** A picture is shown at once; of other files it is asked what stands in the way of showing them. */
  private async lookAt({ path, is_picture, is_ground, layers }: Given): Promise<void> {
    const { backgrounds } = this;
    if (is_picture && !is_ground) await backgrounds?.show(path, true);
    else if (layers.length) await backgrounds?.ask(path);
  }

  private use(edit: Record<string, unknown>): void {
    const answered: EditAsked["answered"] = (refused, _, told) => {
      this.refused = refused ? (told ?? { sentence: refused, file: "", item: "" }) : null;
    };
    this.dispatchEvent(
      new CustomEvent("edit-asked", {
        detail: { edit: { kind: "import_file", ...edit }, answered },
        bubbles: true,
        composed: true,
      }),
    );
  }

  private get hasTerrain(): boolean {
    const site = this.state?.asked.site as Record<string, unknown> | undefined;
    return (site?.ground ?? "flat") !== "flat";
  }

  override render(): TemplateResult {
    const others = (this.state?.files ?? []).filter((file) => !this.backgrounds?.paths.includes(file.path));
    return html`<div class="drop">
      <label class="button" for="site-file"><span>${say("site_files")}</span><input id="site-file" class="only-heard" type="file" multiple ?disabled=${this.locked} @change=${this.chosen} /></label>
      <p class="quiet">${say("drop_hint")}</p>
      ${this.isGiving ? html`<p role="status">${say("loading")}</p>` : nothing}
      ${this.refused ? refusedWhole(this.refused, "job.toml") : nothing}
      ${this.given.map((file) => this.one(file))}
      ${this.state?.files.length && !this.given.length ? html`<button @click=${this.lookAgain}>${say("what_they_can_be")}</button>` : nothing}
      ${others.length ? html`<ul>${others.map((file) => html`<li>${file.path}</li>`)}</ul>` : nothing}
      <background-list .backgrounds=${this.backgrounds} .hasTerrain=${this.hasTerrain} .tick=${this.tick} .grounds=${this.given.filter((file) => file.is_ground).map((file) => file.path)} .locked=${this.locked}></background-list>
    </div>`;
  }

  private chosen = (event: Event): void => {
    const field = event.target as HTMLInputElement;
    const files = [...(field.files ?? [])];
    field.value = ""; // the same file may be given again
    void this.take(files);
  };

  /** What a file just given can be; one that can be a background alone stands in the list of those. */
  private one(file: Given): TemplateResult | typeof nothing {
    if (!file.sentence && !file.is_ground && file.layers.length === 0) return nothing;
    const count = file.layers.reduce((sum, layer) => sum + featuresOf(layer).length, 0);
    return html`<div><strong>${file.path}</strong>
      ${file.sentence ? html`<p class="quiet" lang=${langOf(file.sentence)}>${inPage(file.sentence)}</p>` : nothing}
      ${count ? this.kindChoice() : nothing}<div class="row">
      ${file.is_ground ? html`<button ?disabled=${this.locked} @click=${() => this.use({ file: file.path, use: "ground" })}>${say("use_as_ground")}</button>` : nothing}
      ${count > MOST_BUTTONS ? this.choiceOf(file) : file.layers.map((layer) => this.buttonsOf(file, layer))}
    </div></div>`;
  }

  private kindChoice(): TemplateResult {
    return html`<label for="given-kind"><span>${say("obstacle_kind")}</span><select id="given-kind" @change=${(
      event: Event,
    ) => {
      this.kind = (event.target as HTMLSelectElement).value;
    }}>${this.kinds.map((kind) => html`<option value=${kind} ?selected=${kind === this.kind}>${inPage(kind)}</option>`)}</select></label>`;
  }

  private buttonsOf(file: Given, layer: Layer): TemplateResult {
    const name = (feature: string) => featureWords(file, layer, feature);
    const all = featuresOf(layer);
    return html`${all.filter((feature) => canBeLine(layer, feature)).map((feature) => html`<button ?disabled=${this.locked} @click=${() => this.useFeature(file, layer, feature, "line")}>${say("use_as_line", { name: name(feature) })}</button>`)}
      ${all.map((feature) => html`<button ?disabled=${this.locked} @click=${() => this.useFeature(file, layer, feature, "obstacle")}>${say("use_as_obstacle", { name: name(feature) })}</button>`)}`;
  }

  /** One of many features, chosen from a list. */
  private choiceOf(file: Given): TemplateResult {
    const all = file.layers.flatMap((layer) => featuresOf(layer).map((feature) => ({ layer, feature })));
    const at = Number(this.picked.get(file.path) ?? 0);
    const one = all[at] ?? all[0];
    if (!one) return html``;
    const { layer, feature } = one;
    const id = `feature-${file.path}`;
    return html`<label for=${id}><span>${say("which_feature")}</span><select id=${id} @change=${(
      event: Event,
    ) => {
      this.picked.set(file.path, (event.target as HTMLSelectElement).value);
      this.tick += 1;
    }}>${all.map((each, i) => html`<option value=${i} ?selected=${i === at}>${file.layers.length > 1 ? `${each.layer.layer}: ` : ""}${each.feature}</option>`)}</select></label>
      <button ?disabled=${this.locked || !canBeLine(layer, feature)} @click=${() => this.useFeature(file, layer, feature, "line")}>${say("use_it_as_line")}</button>
      <button ?disabled=${this.locked} @click=${() => this.useFeature(file, layer, feature, "obstacle")}>${say("use_it_as_obstacle")}</button>`;
  }

  private useFeature(file: Given, layer: Layer, feature: string, use: "line" | "obstacle"): void {
    const kind = use === "obstacle" ? { obstacle: this.kind } : {};
    const words = featureWords(file, layer, feature);
    const lines = (this.state?.asked.line ?? []) as readonly { name?: unknown }[];
    const isTaken = use === "line" && lines.some((line) => line.name === words);
    const name = words === feature || isTaken ? {} : { name: words };
    this.use({ file: file.path, use, layer: layer.layer, feature, ...name, ...kind });
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "site-files": SiteFiles;
  }
}
