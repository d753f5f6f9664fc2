/** The panel beside the drawing: one of many, by its name. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import type { CatalogueAnswer } from "../api/client.ts";
import type {
  CheckRow,
  OrderRow,
  PostRow,
  PullRow,
  RollRow,
  SiteCheckRow,
  TensionRow,
} from "../api/records.ts";
import { controls } from "../look/controls.ts";
import {
  checkColumns,
  orderColumns,
  postColumns,
  pullColumns,
  rollColumns,
  siteCheckColumns,
  tensionColumns,
} from "../panels/columns.ts";
import type { SchemaNode } from "../panels/fields.ts";
import { type FormPlace, openWords, placeOfPath } from "../panels/form_words.ts";
import { SUMS, type Sum } from "../panels/sums.ts";
import type { Held } from "../plan/hands.ts";
import type { PlanModel } from "../plan/model.ts";
import type { Session } from "../state/session.ts";
import { rowsOf } from "../state/tables.ts";
import { inPage, langOf } from "../texts/program.ts";
import { say, wordOr } from "../texts/say.ts";
import { showLong, showNumber, smallInField } from "../units/show.ts";
import { isBare } from "./head.ts";
import { fetchLaterPanels } from "./later.ts";
import { stageNames, titleOf, type ViewName } from "./panels.ts";
import { whyThing } from "./why_thing.ts";
import "../panels/changed_list.ts";
import "../panels/chosen.ts";
import "../panels/findings.ts";
import "../panels/several.ts";
import "../panels/table.ts";

/** Tables of posts: pressing a row chooses its post; elsewhere it asks why. */
const OF_POSTS: ReadonlySet<string> = new Set(["posts", "checks"]);

/** Panels that are there from the first. */
const FIRST: ReadonlySet<ViewName> = new Set([
  "plan",
  "section",
  "findings",
  "chosen",
  "posts",
  "order",
  "rolls",
]);

@customElement("job-side")
export class JobSide extends LitElement {
  static override styles = [
    controls,
    css`
      :host { display: block; }
      .stale { border: 1px solid var(--stop); border-left-width: 5px; padding: 0.4rem 0.7rem; margin: 0 0 0.8rem; }
      .stale p { margin: 0; }
      .stale button { margin-top: 0.4rem; }
      .also { align-items: center; }
      .cautions { border: 1px solid var(--caution); padding: 0.4rem 0.7rem; margin-bottom: 0.8rem; }
      .cautions p { margin: 0.1rem 0; font-size: 0.9rem; }
      .sums { display: grid; grid-template-columns: repeat(auto-fill, minmax(8.5rem, 1fr)); gap: 0.5rem; margin: 0 0 1rem; }
      .sums div { border-left: 3px solid var(--line); padding-left: 0.5rem; }
      .sums dt { font-size: 0.85rem; }
      .sums dd button { font-size: 1.15rem; font-weight: 600; font-variant-numeric: tabular-nums; border: 0; background: none; padding: 0; justify-content: start; text-align: left; text-decoration: underline dotted; text-underline-offset: 4px; }
      details { border-top: 1px solid var(--line); }
      summary { min-height: 2.75rem; display: flex; align-items: center; cursor: pointer; font-weight: 600; }
      summary::before { content: "▸"; margin-right: 0.5rem; }
      details[open] > summary::before { content: "▾"; }
    `,
  ];

  @property({ attribute: false }) session: Session | null = null;
  @property({ type: Number }) tick = 0;
  @property() view: ViewName = "findings";
  @property({ attribute: false }) held: Held | null = null;
  @property({ attribute: false }) model: PlanModel | null = null;
  @property({ attribute: false }) post: PostRow | null = null;
  @property() thing = "";
  @property({ attribute: false }) schema: SchemaNode | null = null;
  @property({ type: Boolean }) locked = false;
  @property() chosen = "";
  /** What else lay under the press that chose it, each with its name. */
  @property({ attribute: false }) others: readonly (readonly [Held, string])[] = [];
  /** A corner that is moved leaves the others at its place behind. */
  @property({ type: Boolean }) alone = false;
  /** Number that the person asked about. */
  @property() about = "";
  /** Posts chosen together. */
  @property({ attribute: false }) several: ReadonlySet<string> = new Set();
  /** Names to pick from. */
  @property({ attribute: false }) catalogue: CatalogueAnswer | null = null;
  @property({ attribute: false }) cautions: readonly string[] = [];
  @state() private ticks = false;
  @state() private pull = "";

  override willUpdate(changed: Map<string, unknown>): void {
    if (changed.has("view") && !FIRST.has(this.view)) fetchLaterPanels();
  }

  override updated(): void {
    this.session?.drawn();
  }

  private rows<Row>(table: string): Row[] {
    return rowsOf<Row>(this.session?.answer.tables ?? {}, table);
  }

  private tell(name: string, detail: unknown): void {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }

  /** Show a field of the job's forms, once its panel is there. */
  async openField(place: FormPlace): Promise<void> {
    await customElements.whenDefined("job-panel");
    await this.updateComplete;
    await this.renderRoot.querySelector("job-panel")?.openField(place);
  }

  override render(): TemplateResult | typeof nothing {
    const { session } = this;
    if (!session) return nothing;
    return html`${this.stale(session)}${this.shown(session)}`;
  }

  /** Where no design is possible, nothing stands here, or an older one: said above every panel that shows it. */
  private stale(session: Session): TemplateResult | typeof nothing {
    const isOfDesign = !["chosen", "job", "history"].includes(this.view);
    if (!session.refused || !isOfDesign) return nothing;
    if (isBare(session.state.asked)) return html`<p class="quiet">${say("draw_first_line")}</p>`;
    const sentence = inPage(session.refused);
    const place = placeOfPath(session.refusedAt);
    const open = place
      ? html`<button @click=${() => this.tell("field-wanted", place)}>${openWords(place)}</button>`
      : nothing;
    const said = session.answer.summary ? say("stale_view", { sentence }) : say("no_design", { sentence });
    return html`<div class="stale"><p role="status" lang=${langOf(session.refused)}>${said}</p>${open}</div>`;
  }

  private shown(session: Session): TemplateResult | typeof nothing {
    switch (this.view) {
      case "chosen":
        return this.chosenView(session);
      case "job":
        return this.jobView(session);
      case "posts":
        return this.postsView(session);
      case "order":
        return html`<h2>${say("panel_order")}</h2>${this.table("order", orderColumns(), this.rows<OrderRow>("order"), (row: OrderRow) => row.id)}${this.later(session)}`;
      case "rolls":
        return this.rollsView(session);
      case "tension":
        return this.tensionView(session);
      case "strength":
        return this.strengthView(session);
      case "price":
        return html`<price-panel .state=${session.state} .schema=${this.schema} .system=${session.answer.sheets} .locked=${this.locked}></price-panel>`;
      case "programme":
        return html`<programme-panel .schema=${this.schema} .jobId=${session.state.id} .head=${session.state.head} .locked=${this.locked}></programme-panel>`;
      case "why":
        return html`<why-panel .jobId=${session.state.id} .thing=${this.thing || this.chosenThing(session)} .about=${this.about} .system=${session.answer.sheets} .revision=${session.state.head} .locked=${this.locked}></why-panel>`;
      case "history":
        return html`<job-history .jobId=${session.state.id} .head=${session.state.head} .locked=${this.locked}></job-history>`;
      case "take_away":
        return html`${this.locked ? this.needsProgram() : html`<take-away .jobId=${session.state.id} .head=${session.state.head}></take-away>`}${this.cautionBox()}`;
      default:
        return this.findingsView(session);
    }
  }

  /** Why of what is chosen, where it has one. */
  private chosenThing(session: Session): string {
    return whyThing(this.held, this.model, session.state.asked, this.rows<PostRow>("posts"));
  }

  private later(session: Session): TemplateResult | typeof nothing {
    return session.answer.pending.length
      ? html`<p class="quiet" role="status">${say("following", { stages: stageNames(session.answer.pending) })}</p>`
      : nothing;
  }

  /** Files are made by the program: without it there are none. */
  private needsProgram(): TemplateResult {
    return html`<h2>${say(titleOf(this.view))}</h2><p role="status">${say("needs_program")}</p>`;
  }

  /** Said above forms while nothing can be changed. */
  private onlyRead(): TemplateResult | typeof nothing {
    return this.locked ? html`<p class="quiet" role="status">${say("only_read")}</p>` : nothing;
  }

  private cautionBox(): TemplateResult | typeof nothing {
    return this.cautions.length
      ? html`<div class="cautions">${this.cautions.map((caution) => html`<p lang=${langOf(caution)}>${inPage(caution)}</p>`)}</div>`
      : nothing;
  }

  private table<Row extends object>(
    name: string,
    columns: ReturnType<typeof orderColumns> | readonly unknown[],
    rows: readonly Row[],
    idOf: (row: Row) => string,
  ): TemplateResult {
    return html`<fence-table .name=${name} .heading=${wordOr(`panel_${name}`, wordOr(name.replace("-", "_"), name))} .columns=${columns} .rows=${rows} .idOf=${idOf} .whyOf=${idOf} .selected=${OF_POSTS.has(name) ? this.chosen : this.thing}
      .ticked=${name === "posts" && this.ticks ? this.several : null}
      @rows-ticked=${(event: CustomEvent<string[]>) => this.tell("posts-ticked", event.detail)}
      @row-why=${(event: CustomEvent<string>) => this.tell("why-asked", { thing: event.detail, about: "" })}
      @row-chosen=${(event: CustomEvent<string>) => (OF_POSTS.has(name) ? this.tell("post-chosen", event.detail) : this.tell("why-asked", { thing: event.detail, about: "" }))}></fence-table>`;
  }

  private findingsView(session: Session): TemplateResult {
    const { summary, sheets } = session.answer;
    const posts = summary ? Object.values(summary.posts).reduce((sum, count) => sum + count, 0) : 0;
    const values: Record<Sum, string> | null = summary && {
      "fence length": showLong(summary.fence_length_m, sheets),
      posts: showNumber(posts),
      "rail length": showLong(summary.rail_length_m, sheets),
      rolls: showNumber(summary.rolls),
      pulls: showNumber(summary.pulls),
      bags: showNumber(Math.ceil(summary.bags ?? 0)),
    };
    const sums = values ? SUMS.map(({ word, thing }) => [say(word), values[thing], thing] as const) : [];
    return html`<h2>${say("panel_findings")}</h2>
      <dl class="sums">${sums.map(([title, value, thing]) => html`<div><dt>${title}</dt><dd><button class="number" aria-label=${`${value}: ${say("why_of_it", { name: title })}`} title=${say("why")} @click=${() => this.tell("why-asked", { thing, about: "" })}>${value}</button></dd></div>`)}</dl>
      ${this.changed(session)}
      ${session.refused && session.answer.findings.length === 0 ? nothing : html`<finding-list .findings=${session.answer.findings} .late=${session.answer.late} .isFollowing=${session.answer.pending.length > 0} .schema=${this.schema} .locked=${this.locked}></finding-list>`}${this.later(session)}`;
  }

  /** What the last edit changed: that of the edit before stands until its own is known, so that nothing below it jumps. */
  private changed(session: Session): TemplateResult | typeof nothing {
    const { changes } = session;
    if (!changes) return nothing;
    const price = session.state.asked.price as { book?: string } | undefined;
    return html`<changed-list .changes=${changes} .isFollowing=${!session.isCompared} .between=${session.changedBetween} .jobId=${session.state.id} .priced=${Boolean(price?.book)} .system=${session.answer.sheets}></changed-list>`;
  }

  private chosenView(session: Session): TemplateResult {
    return html`<h2>${say("panel_chosen")}</h2>${this.onlyRead()}${this.together(session)}${this.alsoHere()}<chosen-thing .job=${session.state.id} .unit_m=${session.answer.unit_m} .alone=${this.alone} .catalogue=${this.catalogue} .schema=${this.schema} .held=${this.held} .model=${this.model} .post=${this.post} .asked=${session.state.asked} .system=${session.answer.sheets}
      .locked=${this.locked} .behind=${session.isBehind} .pinned=${Boolean((this.post as { is_pinned?: boolean } | null)?.is_pinned)}></chosen-thing>${this.held ? this.changed(session) : nothing}`;
  }

  /** What else lies where it was pressed: a press away. */
  private alsoHere(): TemplateResult | typeof nothing {
    if (this.others.length === 0) return nothing;
    const here = this.held?.here ?? [];
    return html`<div class="row also"><span>${say("also_here")}:</span>${this.others.map(([held, words]) => html`<button @click=${() => this.tell("thing-chosen", { ...held, here })}>${words}</button>`)}</div>
      <p class="quiet">${say("press_again")}</p>`;
  }

  /** What can be done to the posts chosen together. */
  private together(session: Session): TemplateResult | typeof nothing {
    if (this.several.size === 0) return nothing;
    const posts = this.rows<PostRow>("posts").filter((post) => this.several.has(post.id));
    return html`<several-posts .job=${session.state.id} .posts=${posts} .asked=${session.state.asked} .usual=${smallInField(posts[0]?.above_ground_m, session.answer.sheets)} .locked=${this.locked} .behind=${session.isBehind}></several-posts>`;
  }

  private jobView(session: Session): TemplateResult {
    return html`<h2>${say("panel_job")}</h2>${this.onlyRead()}
      <job-panel .state=${session.state} .schema=${this.schema} .catalogue=${this.catalogue} .system=${session.answer.sheets} .locked=${this.locked}></job-panel>`;
  }

  private postsView(session: Session): TemplateResult {
    return html`<h2>${say("posts")}</h2>
      <div class="row"><button aria-pressed=${this.ticks} @click=${() => {
        this.ticks = !this.ticks;
        if (!this.ticks) this.tell("posts-ticked", []);
      }}>${say("choose_several")}</button></div>${this.together(session)}${this.table("posts", postColumns(session.answer.sheets), this.rows<PostRow>("posts"), (row: PostRow) => row.id)}${this.later(session)}`;
  }

  private rollsView(session: Session): TemplateResult {
    const { sheets } = session.answer;
    return html`<h2>${say("panel_rolls")}</h2>${this.table("rolls", rollColumns(sheets), this.rows<RollRow>("rolls"), (row: RollRow) => row.id)}
      <h3>${say("pulls")}</h3>${this.table("pulls", pullColumns(sheets), this.rows<PullRow>("pulls"), (row: PullRow) => row.id)}${this.later(session)}`;
  }

  private tensionView(session: Session): TemplateResult {
    const { sheets } = session.answer;
    const rows = this.rows<TensionRow>("tension");
    const row = rows.find((each) => each.pull === this.pull) ?? rows[0] ?? null;
    return html`<h2>${say("panel_tension")}</h2>${this.cautionBox()}
      ${
        rows.length > 1
          ? html`<label for="pull"><span>${say("pull")}</span><select id="pull" @change=${(event: Event) => {
              this.pull = (event.target as HTMLSelectElement).value;
            }}>
        ${rows.map((each) => html`<option value=${each.pull} ?selected=${each.pull === row?.pull}>${each.pull}</option>`)}</select></label>`
          : nothing
      }
      <tension-chart .row=${row} .system=${sheets}></tension-chart>
      ${this.table("tension", tensionColumns(sheets), rows, (row: TensionRow) => row.pull)}
      <h3>${say("site_checks")}</h3>${this.table("site-checks", siteCheckColumns(sheets), this.rows<SiteCheckRow>("site_checks"), (row: SiteCheckRow) => row.pull)}${this.later(session)}`;
  }

  private strengthView(session: Session): TemplateResult {
    // what is counted comes first: a check that is only for comparison is no alarm
    const rows = this.rows<CheckRow>("checks").sort(
      (a, b) => Number(b.counted) - Number(a.counted) || (b.utilisation ?? 9) - (a.utilisation ?? 9),
    );
    return html`<h2>${say("panel_strength")}</h2>${this.cautionBox()}
      ${this.table("checks", checkColumns(session.answer.sheets), rows, (row: CheckRow) => row.post)}${this.later(session)}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "job-side": JobSide;
  }
}
