/** The programme of the job: it follows the design, and says so where the job has not what it needs. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { api } from "../api/client.ts";
import type { FindingRow } from "../api/records.ts";
import { controls } from "../look/controls.ts";
import { inPage, langOf } from "../texts/program.ts";
import { say } from "../texts/say.ts";
import { showNumber } from "../units/show.ts";
import { disclosure } from "./disclosure.ts";
import type { SchemaNode } from "./fields.ts";
import { answered } from "./kept_answers.ts";
import { refusedWhole, type Told, toldOf } from "./refused.ts";
import type { Column } from "./rows.ts";
import "./findings.ts";
import "./overview.ts";
import "./table.ts";

interface Activity {
  id: string;
  name: string;
  start: string;
  finish: string;
  float_days: number | null;
  critical: boolean;
  crew: unknown;
}

interface ProgrammeFile {
  activities: Activity[];
  finish: string;
  findings: readonly FindingRow[];
}

/** The name by which an activity's why is asked. */
function programmeThing(row: Activity): string {
  return `programme:${row.id}`;
}

@customElement("programme-panel")
export class ProgrammePanel extends LitElement {
  static override styles = [
    controls,
    disclosure,
    css`
      :host { display: block; }
      .total { font-size: 1.5rem; font-weight: 700; font-variant-numeric: tabular-nums; }
      .number { font: inherit; border: 0; background: none; padding: 0; text-decoration: underline dotted; text-underline-offset: 4px; }
    `,
  ];

  @property() jobId = "";
  @property({ type: Number }) head = 0;
  /** The program cannot be reached: what came before is shown. */
  @property({ type: Boolean }) locked = false;
  /** Of the job file: says which fields of the forms a finding names. */
  @property({ attribute: false }) schema: SchemaNode | null = null;
  @state() private programme: ProgrammeFile | null = null;
  @state() private refused: Told | null = null;
  @state() private isBusy = false;

  override updated(changed: Map<string, unknown>): void {
    if (changed.has("head") || changed.has("jobId") || changed.has("locked")) void this.load();
  }

  private async load(): Promise<void> {
    const wanted = `${this.jobId} programme ${this.head}`;
    this.isBusy = true;
    try {
      const programme = await answered(wanted, !this.locked, () =>
        api.part<ProgrammeFile>(this.jobId, "programme"),
      );
      if (wanted !== `${this.jobId} programme ${this.head}`) return;
      this.programme = programme;
      this.refused = null;
    } catch (error) {
      if (wanted !== `${this.jobId} programme ${this.head}`) return;
      this.refused = toldOf(error);
    }
    this.isBusy = false;
  }

  private ask = (event: CustomEvent<string>): void => {
    event.stopPropagation();
    this.tellWhy(event.detail);
  };

  private tellWhy(thing: string): void {
    this.dispatchEvent(
      new CustomEvent("why-asked", { detail: { thing, about: "" }, bubbles: true, composed: true }),
    );
  }

  override render(): TemplateResult {
    return html`<h2>${say("panel_programme")}</h2>
      ${this.isBusy ? html`<p class="quiet" role="status">${say("is_following")}</p>` : nothing}
      ${this.refused ? refusedWhole(this.refused, "job.toml") : this.planned(this.programme)}`;
  }

  /** What the program has to say of the works: what forbids a start stands open, the rest is counted and a press away. */
  private said({ findings }: ProgrammeFile): TemplateResult {
    const stops = findings.filter(({ level }) => level === "stop");
    const others = findings.filter(({ level }) => level !== "stop");
    const list = (rows: readonly FindingRow[]) =>
      html`<finding-list .schema=${this.schema} .findings=${rows} .locked=${this.locked}></finding-list>`;
    return html`${stops.length ? html`<p class="refused">${say("not_to_start")}</p>${list(stops)}` : nothing}
      ${others.length ? html`<details><summary>${say("programme_findings", { count: others.length })}</summary>${list(others)}</details>` : nothing}`;
  }

  private planned(programme: ProgrammeFile | null): TemplateResult | typeof nothing {
    if (!programme) return nothing;
    const columns: Column<Activity>[] = [
      {
        key: "name",
        title: say("activity"),
        text: (row) => inPage(row.name),
        lang: (row) => langOf(row.name),
      },
      { key: "start", title: say("start"), text: (row) => row.start },
      { key: "finish", title: say("finish"), text: (row) => row.finish },
      {
        key: "float",
        title: say("float"),
        text: (row) => (row.critical ? say("critical") : showNumber(row.float_days, 1)),
        value: (row) => row.float_days,
        isNumber: true,
      },
    ];
    return html`<p class="total">${say("finish")}: <button class="number" title=${say("why")} @click=${() => this.tellWhy("programme:clear-up")}>${programme.finish}</button></p>
      ${this.said(programme)}
      <fence-table name="programme" .heading=${say("panel_programme")} .columns=${columns} .rows=${programme.activities} .idOf=${programmeThing} .whyOf=${programmeThing} @row-why=${this.ask} @row-chosen=${this.ask}></fence-table>
      ${this.locked ? nothing : html`<drawing-overview name="programme.svg" .label=${say("panel_programme")} .jobId=${this.jobId} .head=${this.head}></drawing-overview>`}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "programme-panel": ProgrammePanel;
  }
}
