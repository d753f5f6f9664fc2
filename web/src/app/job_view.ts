/** One job on the page: plan and long section, the tools, and the panels that follow them. */

import { html, LitElement, type nothing, type TemplateResult } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { api, type CatalogueAnswer, type Edit, type JobState } from "../api/client.ts";
import type { FindingRow, PostRow } from "../api/records.ts";
import type { Point } from "../flat/bearing.ts";
import { controls } from "../look/controls.ts";
import type { EditAsked } from "../panels/asking.ts";
import type { SchemaNode } from "../panels/fields.ts";
import type { FormPlace } from "../panels/form_words.ts";
import { holderOf, type Told as Refused } from "../panels/refused.ts";
import type { Held, Moved, Tool } from "../plan/hands.ts";
import type { FencePlan } from "../plan/view.ts";
import { afterFrame } from "../state/after_frame.ts";
import { Session } from "../state/session.ts";
import { rowBy } from "../state/tables.ts";
import { inPage, langOfSaid } from "../texts/program.ts";
import { say } from "../texts/say.ts";
import type { System } from "../units/show.ts";
import {
  type DrawnByHand,
  drawnEdit,
  movedEdit,
  remedyEdit,
  shiftEdit,
  topEdit,
  typedStation,
} from "./asked_edits.ts";
import { Choosing } from "./choosing.ts";
import { DrawnJob } from "./drawn_job.ts";
import { FocusInSight } from "./focus_in_sight.ts";
import { FocusKept } from "./focus_kept.ts";
import { bareHead, headOf } from "./head.ts";
import { jobViewStyles } from "./job_view_styles.ts";
import { undoKey } from "./keyboard.ts";
import { fetchLaterPanels } from "./later.ts";
import { Listening } from "./listening.ts";
import { titleOf, type ViewName } from "./panels.ts";
import { NARROW, Panes } from "./panes.ts";
import { tabsOf } from "./tabs.ts";
import { Telling, type Told } from "./telling.ts";
import { type Drawing, glassOf, lineChoice, NO_DRAWING, pickedOf, toolBar, toolForm } from "./tools.ts";
import { WithAnswer } from "./with_answer.ts";
import "./side.ts";
import "../plan/view.ts";
import "../section/view.ts";

/** A top in the hand, or let go. */
interface TopHeld {
  post: string;
  height_m: number;
}

@customElement("job-view")
export class JobView extends LitElement {
  static override styles = [controls, jobViewStyles];

  @property() jobId = "";
  @state() private session: Session | null = null;
  @state() private refused = "";
  @state() private tool: Tool = "choose";
  @state() private view: ViewName = "plan";
  /** What `Why` is asked: a thing, and the number of it that was pressed. */
  @state() private why = { thing: "", about: "" };
  @state() private drawing: Drawing = NO_DRAWING;
  /** Why what is in the hand could not be kept, until a point of it goes or comes. */
  @state() private drawnRefused: { told: Refused; points: number } | null = null;
  @state() private showsUse = false;
  /** Points, lines and angles catch the hand on the plan. */
  @state() private catching = true;
  /** A corner that is moved leaves the others at its place behind. */
  @state() private alone = false;
  @state() private kind = "tree";
  @state() private tick = 0;
  @query("fence-plan") private plan!: FencePlan | null;

  private readonly narrow = matchMedia(NARROW);
  private readonly panes = new Panes(this);
  private readonly drawn = new DrawnJob(this, () => this.drew());
  private readonly telling = new Telling(this);
  private readonly choosing = new Choosing(this, this.drawn);
  private readonly states = new WithAnswer(this, () => this.again());
  protected readonly parts = [
    new FocusKept(this),
    new FocusInSight(this),
    new Listening(this, this.narrow, { change: () => this.again() }),
    new Listening(this, window, {
      keydown: (event: KeyboardEvent) => this.keyed(event),
      "shade-changed": () => this.restyle(),
      beforeunload: (event: BeforeUnloadEvent) => this.left(event),
    }),
  ];
  private cautions: readonly string[] = [];
  private catalogue: CatalogueAnswer | null = null;
  private schema: SchemaNode | null = null;
  private filled: DrawnJob["plan"] | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    void this.open();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.session?.close();
  }

  /** The program went away while the job was open: this page is all there is to read. */
  get isAlone(): boolean {
    return this.locked && this.session !== null && this.session.answer.summary !== null;
  }

  /** A page that is left without its program cannot be loaded again: the browser asks first. */
  private left(event: BeforeUnloadEvent): void {
    if (this.isAlone) event.preventDefault();
  }

  private restyle(): void {
    requestAnimationFrame(() => {
      this.plan?.restyle();
      this.renderRoot.querySelector("fence-section")?.restyle();
    });
  }

  private async open(): Promise<void> {
    try {
      const session = await Session.open(this.jobId);
      session.addEventListener("state", (event) => {
        this.telling.hush(); // what was told of the state before holds no more
        this.choosing.follow((event as CustomEvent<Record<string, unknown>>).detail, session.state.asked);
        this.states.soon();
      });
      session.addEventListener("line", () => this.again());
      session.addEventListener("told", (event) => this.telling.tell((event as CustomEvent<Told>).detail));
      this.drawn.follow(session);
      this.session = session;
      const [about, schema, catalogue] = await Promise.all([
        api.about(),
        api.jobSchema(),
        api.catalogue(this.jobId),
      ]);
      this.cautions = about.cautions;
      this.schema = schema as SchemaNode;
      this.catalogue = catalogue;
      this.again();
    } catch (error) {
      this.refused = error instanceof Error && error.message ? error.message : say("lost");
    }
  }

  /** Show the session as it now is, panels too. */
  private again(): void {
    this.tick += 1;
  }

  private drew(): void {
    if (this.session?.answer.pending.length === 0) fetchLaterPanels();
    this.choosing.drew();
    this.states.now();
  }

  override updated(): void {
    const { plan, drawn } = this;
    if (!plan || !drawn.isBegun || drawn.plan === this.filled) return;
    this.filled = drawn.plan;
    void plan.updateComplete.then(() => {
      afterFrame(() => void drawn.lookAtGround(plan)); // first the fence, then what lies under it
      if (drawn.plan.lines.length) plan.fit(this.jobId);
    });
  }

  private get system(): System {
    return this.session?.answer.sheets ?? "us";
  }

  /** What the job asks, as the hand sees it. */
  private get asked(): Record<string, unknown> {
    return this.session?.seen.asked ?? {};
  }

  private get locked(): boolean {
    return !this.session?.isConnected;
  }

  private get isNarrow(): boolean {
    return this.narrow.matches;
  }

  /** The view whose tab is pressed: beside plan and section, where they have no tabs, the findings stand first. */
  private get panelName(): ViewName {
    return !this.isNarrow && (this.view === "plan" || this.view === "section") ? "findings" : this.view;
  }

  private keyed(event: KeyboardEvent): void {
    if (event.key === "Escape" && !this.hidden) this.escape(event);
    const way = this.hidden ? null : undoKey(event);
    if (!way) return;
    event.preventDefault();
    void this.session?.[way]();
  }

  /** Escape leaves what is being drawn, then the tool; what is told goes too. */
  private escape(event: KeyboardEvent): void {
    if (event.defaultPrevented) return;
    this.telling.hush();
    if (this.plan?.letGo() || this.tool === "choose") return;
    if (this.plan?.drawn.points.length) this.plan.dropSketch();
    else this.tool = "choose";
  }

  private async edit(edit: Edit | null, answered?: EditAsked["answered"]): Promise<void> {
    if (!edit) return;
    const refusal = await this.session?.edit(edit, answered !== undefined);
    if (refusal) {
      this.drawn.again(); // a top let go does not hang where the hand left it
      this.plan?.settle();
    } else if (answered) this.states.now(); // a field shows what the job has: that first, then its own text goes
    answered?.(refusal ? refusal.message || say("lost") : "", refusal?.told.field, refusal?.told);
  }

  /** Have designed ahead what is likely to be asked next. */
  private expect(edit: Edit | null): void {
    if (edit) this.session?.expect(edit);
  }

  /** Show what an edit would give, while a hand drags. */
  private try(edit: Edit | null): void {
    if (edit) this.session?.try(edit);
  }

  private choose(held: Held | null): void {
    if (held?.id !== this.choosing.id) this.alone = false;
    this.choosing.choose(held);
    this.why = { thing: "", about: "" }; // why of what is chosen now, not of what was asked before
    if (held) this.plan?.chose(held);
    if (held && !this.isNarrow) this.view = "chosen";
  }

  private postRow(id: string): PostRow | null {
    return rowBy<PostRow>(this.session?.answer.tables ?? {}, "posts", "id", id);
  }

  private get post(): PostRow | null {
    return this.choosing.held?.kind === "post" ? this.postRow(this.choosing.id) : null;
  }

  private topEdit({ post, height_m }: TopHeld): Edit | null {
    const row = this.postRow(post);
    return row && topEdit(row, height_m);
  }

  private freeEdit(post: string): Edit | null {
    const row = this.postRow(post);
    return row && { kind: "unpin", line: row.line, at: row.station_m ?? 0 };
  }

  private keep(drawn: DrawnByHand): void {
    this.tool = "choose";
    void this.edit(drawnEdit(drawn, this.kind, this.system), (sentence, _, told) => {
      if (sentence) void this.giveBack(drawn, told ?? { sentence, file: "", item: "" });
    });
  }

  /** What was drawn is refused: it is in the hand again, with the sentence, unless the hand has taken up something else. */
  private async giveBack({ tool, points }: DrawnByHand, told: Refused): Promise<void> {
    if (this.tool !== "choose") {
      this.telling.tell({ sentence: `${holderOf(told)}${told.sentence}` });
      return;
    }
    this.tool = tool;
    await this.updateComplete;
    await this.plan?.updateComplete; // a tool that is taken up begins with nothing drawn
    this.plan?.takeUp(points);
    this.drawnRefused = { told, points: points.length };
  }

  private showFinding(finding: FindingRow): void {
    const { held, at } = this.choosing.placeOf(finding);
    if (held) this.choose(held);
    this.showPlace(at);
  }

  private async showField(place: FormPlace): Promise<void> {
    this.view = "job";
    await this.updateComplete;
    await this.renderRoot.querySelector("job-side")?.openField(place);
  }

  private showPlace(at: Point | undefined): void {
    if (at) this.plan?.showPlace(at);
    if (this.isNarrow) this.view = "plan";
  }

  private box(ids: readonly string[]): void {
    this.choosing.together(ids);
    this.tool = "choose";
    if (ids.length && !this.isNarrow && this.view !== "posts") this.view = "chosen";
  }

  private shiftPost({ post, by_m }: { post: string; by_m: number }): void {
    const row = this.postRow(post);
    if (!row) return;
    const edit = shiftEdit(this.asked, row, by_m, (value_m) => typedStation(value_m, this.system));
    if (edit) this.choosing.keepMoved(row.line, (row.station_m ?? 0) + by_m);
    else this.telling.tell({ key: "held_by_line", values: { post: row.id } });
    void this.edit(edit);
  }

  override render(): TemplateResult {
    if (this.refused)
      return html`${bareHead()}<p class="refused alone" role="alert" lang=${langOfSaid(this.refused)}>${inPage(this.refused)}</p><p class="alone"><a href="#/">${say("jobs")}</a></p>`;
    const { session } = this;
    if (!session) return html`${bareHead()}<p class="alone" role="status">${say("loading")}</p>`;
    return html`${headOf(session, this.locked)}
      <div class="body" data-view=${this.view} data-tick=${this.tick}
        @edit-asked=${(event: CustomEvent<EditAsked>) => void this.edit(event.detail.edit, event.detail.answered)}
        @edit-expected=${(event: CustomEvent<Edit>) => session.expect(event.detail)}
        @post-chosen=${(event: CustomEvent<string>) => this.choose(event.detail ? { kind: "post", id: event.detail } : null)}
        @post-hovered=${(event: CustomEvent<string>) => this.choosing.hover(event.detail)}
        @thing-chosen=${(event: CustomEvent<Held | null>) => this.choose(event.detail)}
        @try-ended=${() => void session.endTry()}
        @corner-alone=${(event: CustomEvent<boolean>) => {
          this.alone = event.detail;
        }}
        @why-asked=${(event: CustomEvent<{ thing: string; about: string }>) => {
          this.why = event.detail;
          this.view = "why";
        }}
        @posts-boxed=${(event: CustomEvent<string[]>) => this.box(event.detail)}
        @posts-ticked=${(event: CustomEvent<string[]>) => this.choosing.together(event.detail)}
        @post-shifted=${(event: CustomEvent<{ post: string; by_m: number }>) => this.shiftPost(event.detail)}
        @place-asked=${(event: CustomEvent<Point>) => this.showPlace(event.detail)}
        @files-dropped=${() => {
          this.view = "job";
        }}
        @field-wanted=${(event: CustomEvent<FormPlace>) => void this.showField(event.detail)}
        @plan-wanted=${() => {
          if (this.isNarrow) this.view = "plan";
        }}
        @finding-place=${(event: CustomEvent<FindingRow>) => this.showFinding(event.detail)}
        @finding-near=${({ detail }: CustomEvent<FindingRow>) => this.expect(remedyEdit(detail))}
        @finding-mend=${({ detail }: CustomEvent<FindingRow>) => void this.edit(remedyEdit(detail))}
        @job-adopted=${(event: CustomEvent<JobState>) => session.adopt(event.detail)}>
        <section class="plan" aria-label=${say("panel_plan")}>${this.tools()}<div class="sheet">${this.planView()}${this.glass()}</div>${this.picked()}</section>
        <section class="section" aria-label=${say("panel_section")}>${this.sectionView()}${this.picked()}</section>
        ${this.panes.sectionDivider()}${this.panes.besideDivider()}
        <div class="side">${this.tabs(session)}${this.panel(session)}</div>
      </div>
      <p class="told" role="status" lang=${langOfSaid(this.telling.words)} ?hidden=${!this.telling.words}>${inPage(this.telling.words)}</p>`;
  }

  private tools(): TemplateResult {
    const bar = toolBar(this.tool, this.locked, (tool) => {
      this.tool = tool;
    });
    const { tool, plan, drawing, system, kind } = this;
    const refused = this.drawnRefused?.told ?? null;
    const kinds = this.catalogue?.obstacles ?? [];
    const form = toolForm({ tool, plan, drawing, refused, system, kinds, kind }, (picked) => {
      this.kind = picked;
    });
    return html`${bar}${form}`;
  }

  private glass(): TemplateResult {
    return glassOf(
      this.catching,
      (catches) => {
        this.catching = catches;
      },
      this.showsUse,
      (shows) => {
        this.showsUse = shows;
      },
      () => this.plan?.fit(this.jobId, true),
      (steps) => this.plan?.zoomBy(steps),
    );
  }

  private picked(): TemplateResult | typeof nothing {
    const { words, next } = this.choosing;
    return pickedOf(
      words,
      next ? this.choosing.wordsOf(next) : "",
      () => this.choose(next),
      () => {
        this.view = "chosen";
      },
    );
  }

  private planView(): TemplateResult {
    const { id, hovered, several, held } = this.choosing;
    const row = held?.kind === "obstacle" ? (held.row ?? -1) : -1;
    return html`<fence-plan .model=${this.drawn.plan} .job=${this.session?.state ?? null} .system=${this.system} .tool=${this.tool} .chosen=${id} .chosenRow=${row} .catching=${this.catching} .alone=${this.alone} .hovered=${hovered} .locked=${this.locked}
      .several=${several} .showsUse=${this.showsUse}
      @thing-dragged=${(event: CustomEvent<Moved>) => this.try(movedEdit(this.asked, event.detail))}
      @thing-moved=${(event: CustomEvent<Moved>) => void this.edit(movedEdit(this.asked, event.detail))}
      @sketched=${(event: CustomEvent<Drawing>) => {
        this.drawing = event.detail;
        if (event.detail.points !== this.drawnRefused?.points) this.drawnRefused = null;
      }}
      @drawn-soon=${(event: CustomEvent<DrawnByHand>) => this.expect(drawnEdit(event.detail, this.kind, this.system))}
      @drawn=${(event: CustomEvent<DrawnByHand>) => this.keep(event.detail)}></fence-plan>`;
  }

  private sectionView(): TemplateResult {
    const { lines, line, section } = this.drawn;
    const choice = lineChoice(lines, line, (name) => this.drawn.showLine(name));
    return html`<fence-section .line=${section} .system=${this.system} .selected=${this.choosing.id} .hovered=${this.choosing.hovered} .locked=${this.locked} .folded=${this.panes.isFolded && !this.isNarrow} .foldable=${!this.isNarrow}
        @section-folded=${() => this.panes.fold()}
        @top-dragged=${(event: CustomEvent<TopHeld>) => this.try(this.topEdit(event.detail))}
        @top-near=${(event: CustomEvent<TopHeld>) => this.expect(this.topEdit(event.detail))}
        @top-freed=${(event: CustomEvent<string>) => void this.edit(this.freeEdit(event.detail))}
        @top-set=${(event: CustomEvent<TopHeld>) => void this.edit(this.topEdit(event.detail))}>${choice}</fence-section>`;
  }

  private tabs(session: Session): TemplateResult {
    const stops = session.answer.findings.filter((finding) => finding.level === "stop").length;
    return tabsOf(this.panelName, stops, (view) => {
      this.view = view;
    });
  }

  private panel(session: Session): TemplateResult {
    const { held, id, several } = this.choosing;
    const others = this.choosing.others.map((each) => [each, this.choosing.wordsOf(each)] as const);
    return html`<div class="panel" role="tabpanel" aria-label=${say(titleOf(this.panelName))} tabindex="0">
          <job-side .session=${session} .tick=${this.tick} .view=${this.view} .held=${held} .model=${this.drawn.plan}
            .post=${this.post} .thing=${this.why.thing} .about=${this.why.about} .catalogue=${this.catalogue} .several=${several} .schema=${this.schema} .locked=${this.locked} .chosen=${id} .others=${others} .alone=${this.alone} .cautions=${this.cautions}></job-side></div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "job-view": JobView;
  }
}
