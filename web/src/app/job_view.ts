/** One job on the page: plan and long section, the tools, and the panels that follow them. */

import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { api, type CatalogueAnswer, type Edit, type JobState } from "../api/client.ts";
import type { FindingRow, PostRow } from "../api/records.ts";
import type { Point } from "../flat/bearing.ts";
import { controls } from "../look/controls.ts";
import type { EditAsked } from "../panels/chosen.ts";
import type { LegTyped } from "../panels/draw_form.ts";
import type { SchemaNode } from "../panels/fields.ts";
import type { FieldSet } from "../panels/job_form.ts";
import type { Held, Moved, Tool } from "../plan/hands.ts";
import type { PlanModel } from "../plan/model.ts";
import { EMPTY_PLAN } from "../plan/model.ts";
import type { FencePlan } from "../plan/view.ts";
import type { SectionLine } from "../section/model.ts";
import { type DrawnSection, planOf, sectionNames, sectionOf } from "../state/drawn.ts";
import { Session } from "../state/session.ts";
import { rowBy, type Tables } from "../state/tables.ts";
import { type Key, say } from "../texts/say.ts";
import type { System } from "../units/show.ts";
import { type RemedyChange, remedyEdit, shiftEdit } from "./asked_edits.ts";
import { jobViewStyles } from "./job_view_styles.ts";
import { NARROW_VIEWS, PANELS, stageNames, titleOf, type ViewName } from "./panels.ts";
import "./side.ts";
import "../panels/draw_form.ts";
import "../plan/view.ts";
import "../section/view.ts";

const TOOLS: readonly Tool[] = ["choose", "draw", "obstacle", "measure", "box"];
const TOLD_MS = 8000;
/** Stages after which the top line follows, and how long it is waited for. */
const FOLLOWED: ReadonlySet<string> = new Set(["site", "layout"]);
const FOLLOWED_MS = 150;
const NOWHERE: readonly Point[] = [];

@customElement("job-view")
export class JobView extends LitElement {
  static override styles = [controls, jobViewStyles];

  @property() jobId = "";
  @state() private session: Session | null = null;
  @state() private refused = "";
  @state() private told = "";
  @state() private tool: Tool = "choose";
  @state() private view: ViewName = "plan";
  @state() private held: Held | null = null;
  @state() private hovered = "";
  @state() private sectionLine = "";
  @state() private thing = "";
  @state() private model: PlanModel = EMPTY_PLAN;
  @state() private section: SectionLine | null = null;
  @state() private drawing = {
    points: 0,
    leg: null as { length_m: number; bearing_deg: number; turn_deg: number } | null,
    total_m: 0,
  };
  @state() private several: ReadonlySet<string> = new Set();
  @state() private showsUse = false;
  @state() private about = "";
  @state() private kind = "tree";
  @state() private tick = 0;
  @query("fence-plan") private plan!: FencePlan;

  private followed: { line: string; station_m: number } | null = null;
  private cautions: readonly string[] = [];
  private catalogue: CatalogueAnswer | null = null;
  private schema: SchemaNode | null = null;
  private drawnFrom: { tables: Tables; plan: PlanModel } | null = null;
  private sectionFrom: DrawnSection | null = null;
  private toldTimer = 0;
  private drawTimer = 0;
  private groundKey = "";

  override connectedCallback(): void {
    super.connectedCallback();
    void this.open();
    window.addEventListener("keydown", this.keyed);
    window.addEventListener("shade-changed", this.restyle);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.session?.close();
    clearTimeout(this.drawTimer);
    window.removeEventListener("keydown", this.keyed);
    window.removeEventListener("shade-changed", this.restyle);
  }

  private restyle = (): void => {
    requestAnimationFrame(() => {
      this.plan?.restyle();
      this.renderRoot.querySelector("fence-section")?.restyle();
    });
  };

  private async open(): Promise<void> {
    try {
      const session = await Session.open(this.jobId);
      session.addEventListener("state", () => {
        this.tick += 1;
      });
      session.addEventListener("line", () => {
        this.tick += 1;
      });
      session.addEventListener("refused", () => this.took());
      session.addEventListener("answer", (event) => this.answered((event as CustomEvent<string>).detail));
      session.addEventListener("told", (event) => this.tellPerson((event as CustomEvent).detail));
      this.session = session;
      const [about, schema, catalogue] = await Promise.all([
        api.about(),
        api.jobSchema(),
        api.catalogue(this.jobId),
      ]);
      this.cautions = about.cautions;
      this.schema = schema as SchemaNode;
      this.catalogue = catalogue;
      this.tick += 1;
    } catch (error) {
      this.refused = error instanceof Error && error.message ? error.message : say("lost");
    }
  }

  /** Lines and posts without their tops wait a moment: as a rule the top line follows, and one frame shows them all. */
  private answered(stage: string): void {
    if (this.drawnFrom === null || !FOLLOWED.has(stage)) this.took();
    else if (!this.drawTimer) this.drawTimer = window.setTimeout(() => this.took(), FOLLOWED_MS);
  }

  private took(): void {
    clearTimeout(this.drawTimer);
    this.drawTimer = 0;
    const session = this.session;
    if (!session) return;
    const { tables, bands, pending } = session.answer;
    this.model = planOf(
      tables,
      this.drawnFrom,
      pending.length ? NOWHERE : (session.changes?.were ?? NOWHERE),
    );
    this.drawnFrom = { tables, plan: this.model };
    const names = sectionNames(tables);
    if (!names.includes(this.sectionLine)) this.sectionLine = names[0] ?? "";
    const before = this.sectionFrom;
    const line = this.sectionLine ? sectionOf(tables, this.sectionLine, bands, before) : null;
    this.sectionFrom = line && { tables, bands, line };
    // a whole answer is told even where it changes nothing, so that a top let go does not hang where the hand left it
    this.section = line && line === before?.line && pending.length === 0 ? { ...line } : line;
    this.follow();
    this.tick += 1;
    performance.mark("fence-answer", { detail: session.state.head });
  }

  override updated(changed: PropertyValues): void {
    if (changed.has("model")) void this.plan?.updateComplete.then(() => this.lookAtGround());
    if (changed.has("model") && this.model.lines.length)
      void this.plan?.updateComplete.then(() => this.plan.fit(this.jobId));
    if (changed.has("sectionLine" as never)) this.took();
  }

  /** Ask for the terrain again where the ground's file or the lines' extent may have changed. */
  private async lookAtGround(): Promise<void> {
    const session = this.session;
    const site = session?.state.asked.site as Record<string, unknown> | undefined;
    const key = JSON.stringify([
      site?.ground ?? "flat",
      site?.ground_unit ?? "",
      session?.state.files.length ?? 0,
    ]);
    if (!session || key === this.groundKey || !this.plan) return;
    this.groundKey = key;
    try {
      const isFlat = (site?.ground ?? "flat") === "flat";
      await this.plan.showTerrain(isFlat ? null : await api.terrain(session.state.id));
    } catch {
      this.groundKey = ""; // the findings say what is wrong with the ground; it is asked for again after the next edit
    }
  }

  private tellPerson(said: { key?: Key; values?: Record<string, string>; sentence?: string }): void {
    this.told = said.key ? say(said.key, said.values) : (said.sentence ?? "");
    clearTimeout(this.toldTimer);
    this.toldTimer = window.setTimeout(() => {
      this.told = "";
    }, TOLD_MS);
  }

  private get system(): System {
    return this.session?.answer.sheets ?? "us";
  }

  private get locked(): boolean {
    return !this.session?.isConnected;
  }

  private get chosen(): string {
    return this.held?.id ?? "";
  }

  private keyed = (event: KeyboardEvent): void => {
    if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z" || isTyping(event)) return;
    event.preventDefault();
    void (event.shiftKey ? this.session?.redo() : this.session?.undo());
  };

  private async edit(edit: Edit, answered?: (refused: string) => void): Promise<void> {
    const refusal = await this.session?.edit(edit);
    answered?.(refusal ? refusal.message || say("lost") : "");
  }

  private choose(held: Held | null): void {
    this.held = held;
    if (!held) return;
    const line =
      held.kind === "line"
        ? held.id
        : (held.line ??
          (held.kind === "post"
            ? this.post()?.line
            : this.model.gates.find((gate) => gate.name === held.id)?.line));
    if (line && line !== this.sectionLine && sectionNames(this.session?.answer.tables ?? {}).includes(line))
      this.sectionLine = line;
    if (!this.isNarrow) this.view = "chosen";
  }

  private get isNarrow(): boolean {
    return matchMedia("(max-width: 60rem)").matches;
  }

  private post(): PostRow | null {
    return this.held?.kind === "post"
      ? rowBy<PostRow>(this.session?.answer.tables ?? {}, "posts", "id", this.held.id)
      : null;
  }

  private choosePost(id: string): void {
    this.choose(id ? { kind: "post", id } : null);
  }

  private editOf(moved: Moved): Edit | null {
    const { held, to } = moved;
    if (held.kind === "corner")
      return { kind: "move_corner", line: held.line, corner: held.corner, to: [...to] };
    const row = this.gateRow(held.id);
    return held.kind === "gate" && row >= 0 && moved.station_m !== undefined
      ? { kind: "slide", table: "gate", item: row, at: moved.station_m }
      : null;
  }

  private gateRow(name: string): number {
    const rows = (this.session?.state.asked.gate ?? []) as Record<string, unknown>[];
    return rows.findIndex((row, i) => (row.name ?? `gate ${i + 1}`) === name);
  }

  private topEdit(detail: { post: string; height_m: number }): Edit | null {
    const post = rowBy<PostRow>(this.session?.answer.tables ?? {}, "posts", "id", detail.post);
    return post
      ? { kind: "pin_top", line: post.line, at: post.station_m ?? 0, height: detail.height_m }
      : null;
  }

  private drawn(detail: { tool: Tool; points: readonly (readonly number[])[]; closed: boolean }): void {
    const points = detail.points.map((point) => [...point]);
    const edit: Edit =
      detail.tool === "obstacle"
        ? {
            kind: "add",
            table: "obstacle",
            values: {
              kind: this.kind,
              points: points.map((point) => point.map((value) => this.typed(value))),
              closed: detail.closed,
            },
          }
        : { kind: "add_line", points, closed: detail.closed };
    this.tool = "choose";
    void this.edit(edit);
  }

  private typed(value_m: number): string {
    return this.system === "us"
      ? `${Number((value_m / 0.3048).toFixed(4))} ft`
      : `${Number(value_m.toFixed(4))} m`;
  }

  private showFinding(finding: FindingRow): void {
    const { where } = finding;
    if (where.kind === "post" || /^P\d+$/.test(where.id)) this.choosePost(where.id);
    else if (where.kind === "gate") this.choose({ kind: "gate", id: where.id });
    else if (where.line) this.choose({ kind: "line", id: where.line });
    const post =
      this.model.posts.find((each) => each.id === where.id) ?? this.nearestPost(where.line, where.station_m);
    if (post) this.plan.showPlace(post.at);
    if (this.isNarrow) this.view = "plan";
  }

  private nearestPost(
    line: string,
    station_m: number | null | undefined,
  ): PlanModel["posts"][number] | undefined {
    if (!line || typeof station_m !== "number") return undefined;
    const on = this.model.posts.filter((post) => post.line === line);
    return on.sort((a, b) => Math.abs(a.station_m - station_m) - Math.abs(b.station_m - station_m))[0];
  }

  private mend(finding: FindingRow): void {
    const edit = remedyEdit(finding.edits as readonly RemedyChange[], finding.remedy);
    if (edit) void this.edit(edit);
  }

  private box(ids: readonly string[]): void {
    this.several = new Set(ids);
    this.tool = "choose";
    if (ids.length && !this.isNarrow && this.view !== "posts") this.view = "chosen";
  }

  private follow(): void {
    const moved = this.followed;
    if (!moved) return;
    const post = this.nearestPost(moved.line, moved.station_m);
    if (!post || Math.abs(post.station_m - moved.station_m) > 0.02) return;
    this.followed = null;
    this.held = { kind: "post", id: post.id };
  }

  private shiftPost(detail: { post: string; by_m: number }): void {
    const post = rowBy<PostRow>(this.session?.answer.tables ?? {}, "posts", "id", detail.post);
    const edit =
      post && shiftEdit(this.session?.state.asked ?? {}, post, detail.by_m, (value) => this.typed(value));
    if (edit && post) {
      // the posts beyond are laid out again and numbered anew: the one that was moved stays chosen
      this.followed = { line: post.line, station_m: (post.station_m ?? 0) + detail.by_m };
      void this.edit(edit);
    } else if (post) this.tellPerson({ key: "held_by_line", values: { post: post.id } });
  }

  override render(): TemplateResult {
    if (this.refused)
      return html`<p class="refused alone" role="alert">${this.refused}</p><p class="alone"><a href="#/">${say("jobs")}</a></p>`;
    const { session } = this;
    if (!session) return html`<p class="alone" role="status">${say("loading")}</p>`;
    return html`${this.head(session)}
      <div class="body" data-view=${this.view} data-tick=${this.tick}
        @edit-asked=${(event: CustomEvent<EditAsked>) => void this.edit(event.detail.edit, event.detail.answered)}
        @field-set=${(event: CustomEvent<FieldSet>) => void this.edit({ kind: "set", path: event.detail.path, value: event.detail.value }, event.detail.answered)}
        @post-chosen=${(event: CustomEvent<string>) => this.choosePost(event.detail)}
        @post-hovered=${(event: CustomEvent<string>) => {
          this.hovered = event.detail;
        }}
        @thing-chosen=${(event: CustomEvent<Held | null>) => this.choose(event.detail)}
        @why-asked=${(event: CustomEvent<{ thing: string; about: string }>) => {
          this.thing = event.detail.thing;
          this.about = event.detail.about;
          this.view = "why";
        }}
        @posts-boxed=${(event: CustomEvent<string[]>) => this.box(event.detail)}
        @posts-ticked=${(event: CustomEvent<string[]>) => {
          this.several = new Set(event.detail);
        }}
        @post-shifted=${(event: CustomEvent<{ post: string; by_m: number }>) => this.shiftPost(event.detail)}
        @picture-given=${(event: CustomEvent<{ url: string; extent: number[] }>) => this.plan.showPicture(event.detail.url, event.detail.extent)}
        @finding-place=${(event: CustomEvent<FindingRow>) => this.showFinding(event.detail)}
        @finding-mend=${(event: CustomEvent<FindingRow>) => this.mend(event.detail)}
        @job-adopted=${(event: CustomEvent<JobState>) => session.adopt(event.detail)}>
        <section class="plan" aria-label=${say("panel_plan")}>${this.tools()}<div class="sheet">${this.planView()}${this.glass()}</div>${this.picked()}</section>
        <section class="section" aria-label=${say("panel_section")}>${this.sectionView()}</section>
        <div class="side">${this.tabs()}<div class="panel" role="tabpanel" aria-label=${say(titleOf(this.view))} tabindex="0">
          <job-side .session=${session} .tick=${this.tick} .view=${this.view} .held=${this.held} .model=${this.model}
            .post=${this.post()} .thing=${this.thing} .about=${this.about} .kinds=${this.catalogue?.obstacles ?? []} .several=${this.several} .schema=${this.schema} .locked=${this.locked} .chosen=${this.chosen} .cautions=${this.cautions}></job-side></div></div>
      </div>
      <p class="told" role="status" ?hidden=${!this.told}>${this.told}</p>`;
  }

  private head(session: Session): TemplateResult {
    const { answer, state: job } = session;
    // what is shown answers the revision before until its own design begins to come
    const isBefore = answer.digest !== "" && answer.revision !== job.head;
    const pending = isBefore && answer.pending.length === 0 ? ["design"] : answer.pending;
    const follows = pending.length > 0;
    const said = session.refused
      ? html`<span class="refused">${session.refused}</span>`
      : follows
        ? say("following", { stages: stageNames(pending) })
        : answer.mayBeBuilt === false
          ? html`<span class="refused">${say("not_to_be_built")}</span>`
          : answer.mayBeBuilt
            ? say("may_be_built")
            : say("no_design_yet");
    return html`<div class="head">
      <h1>${job.name}</h1>
      <button @click=${() => void session.undo()} ?disabled=${job.undo === null || this.locked} title=${job.undo ?? ""}>${say("undo")}</button>
      <button @click=${() => void session.redo()} ?disabled=${job.redo === null || this.locked} title=${job.redo ?? ""}>${say("redo")}</button>
      <span class="state" role="status">${say("revision", { number: job.head })} · ${said}${session.isConnected ? nothing : html` · <span class="refused">${say("no_line")}</span>`}</span>
    </div>`;
  }

  private tools(): TemplateResult {
    const draws = this.tool !== "choose";
    return html`<div class="tools" role="toolbar" aria-label=${say("tools")}>
        ${TOOLS.map(
          (tool) =>
            html`<button aria-pressed=${this.tool === tool} ?disabled=${this.locked && tool !== "choose" && tool !== "measure"} @click=${() => {
              this.tool = tool;
            }} aria-label=${say(`tool_${tool}`)}><span class="long">${say(`tool_${tool}`)}</span><span class="short">${say(`tool_${tool}_short`)}</span></button>`,
        )}
      </div>
      ${
        this.tool === "box"
          ? html`<div class="drawing"><p class="quiet">${say("box_hint")}</p></div>`
          : draws
            ? html`<div class="drawing"><draw-form .tool=${this.tool} .drawn=${this.plan?.drawn.points ?? []} .leg=${this.drawing.leg} .total_m=${this.drawing.total_m} .system=${this.system}
        .kinds=${this.catalogue?.obstacles ?? []} .kind=${this.kind}
        @kind-picked=${(event: CustomEvent<string>) => {
          this.kind = event.detail;
        }}
        @leg-typed=${(event: CustomEvent<LegTyped>) => this.plan.addLeg(event.detail.length_m, event.detail.bearing_deg)}
        @leg-back=${() => this.plan.back()}
        @drawing-ended=${(event: CustomEvent<boolean>) => this.plan.finish(event.detail)}></draw-form></div>`
            : nothing
      }`;
  }

  /** Controls that lie on the plan: they stay in reach on a phone. */
  private glass(): TemplateResult {
    return html`<div class="glass">
      <button aria-pressed=${this.showsUse} @click=${() => {
        this.showsUse = !this.showsUse;
      }}>${say("utilisation")}</button>
      <button @click=${() => this.plan.fit(this.jobId, true)}>${say("show_all")}</button>
      <button aria-label=${say("nearer")} @click=${() => this.plan.zoomBy(0.7)}>+</button>
      <button aria-label=${say("farther")} @click=${() => this.plan.zoomBy(-0.7)}>−</button></div>`;
  }

  /** On a narrow screen: what is chosen, with the way to its numbers. */
  private picked(): TemplateResult | typeof nothing {
    const name = this.several.size
      ? say("several_chosen", { count: this.several.size })
      : this.held?.kind === "corner"
        ? say("corner_of", { number: (this.held.corner ?? 0) + 1, line: this.held.line ?? "" })
        : this.held?.kind === "obstacle"
          ? (this.model.obstacles[this.held.row ?? -1]?.name ?? "")
          : this.chosen;
    if (!name) return nothing;
    return html`<div class="picked"><strong>${name}</strong><button class="main" @click=${() => {
      this.view = "chosen";
    }}>${say("its_numbers")}</button></div>`;
  }

  private planView(): TemplateResult {
    return html`<fence-plan .model=${this.model} .system=${this.system} .tool=${this.tool} .chosen=${this.chosen} .hovered=${this.hovered} .locked=${this.locked}
      .several=${this.several} .showsUse=${this.showsUse}
      @thing-dragged=${(event: CustomEvent<Moved>) => {
        const edit = this.editOf(event.detail);
        if (edit) this.session?.try(edit);
      }}
      @thing-moved=${(event: CustomEvent<Moved>) => {
        const edit = this.editOf(event.detail);
        if (edit) void this.edit(edit);
      }}
      @sketched=${(event: CustomEvent<typeof this.drawing>) => {
        this.drawing = event.detail;
      }}
      @drawn=${(event: CustomEvent) => this.drawn(event.detail)}></fence-plan>`;
  }

  private sectionView(): TemplateResult {
    const names = sectionNames(this.session?.answer.tables ?? {});
    const choice =
      names.length > 1
        ? html`<label for="section-line"><span class="only-heard">${say("line")}</span><select id="section-line" @change=${(
            event: Event,
          ) => {
            this.sectionLine = (event.target as HTMLSelectElement).value;
          }}>
      ${names.map((name) => html`<option value=${name} ?selected=${name === this.sectionLine}>${name}</option>`)}</select></label>`
        : nothing;
    return html`      <fence-section .line=${this.section} .system=${this.system} .selected=${this.chosen} .hovered=${this.hovered} .locked=${this.locked}
        @top-dragged=${(event: CustomEvent<{ post: string; height_m: number }>) => {
          const edit = this.topEdit(event.detail);
          if (edit) this.session?.try(edit);
        }}
        @top-set=${(event: CustomEvent<{ post: string; height_m: number }>) => {
          const edit = this.topEdit(event.detail);
          if (edit) void this.edit(edit);
        }}>${choice}</fence-section>`;
  }

  private tabs(): TemplateResult {
    const counts = this.session?.answer.findings.filter((finding) => finding.level === "stop").length ?? 0;
    const tab = (
      name: ViewName,
      narrow: boolean,
    ) => html`<button role="tab" class=${narrow ? "narrow" : ""} aria-selected=${this.view === name} tabindex=${this.view === name ? 0 : -1}
      @click=${() => {
        this.view = name;
      }}>${say(titleOf(name))}${name === "findings" && counts ? html` <b>${counts}</b>` : nothing}</button>`;
    return html`<div class="tabs" role="tablist" aria-label=${say("panels")} @keydown=${this.tabKeyed}>
      ${NARROW_VIEWS.map((name) => tab(name, true))}${PANELS.map((name) => tab(name, false))}</div>`;
  }

  private tabKeyed = (event: KeyboardEvent): void => {
    const step = event.key === "ArrowRight" ? 1 : event.key === "ArrowLeft" ? -1 : 0;
    if (!step) return;
    const tabs = [...this.renderRoot.querySelectorAll<HTMLElement>('[role="tab"]')].filter(
      (each) => each.offsetParent !== null,
    );
    const place = tabs.indexOf(event.target as HTMLElement);
    const next = tabs[(place + step + tabs.length) % tabs.length];
    next?.focus();
    next?.click();
    event.preventDefault();
  };
}

function isTyping(event: KeyboardEvent): boolean {
  const [target] = event.composedPath();
  return target instanceof HTMLInputElement || target instanceof HTMLTextAreaElement;
}

declare global {
  interface HTMLElementTagNameMap {
    "job-view": JobView;
  }
}
