/** What is chosen on plan or section, with its numbers to type: corner, line, gate, obstacle, mark on a line, or a post. */

import { css, html, nothing, type TemplateResult } from "lit";
import { customElement, property } from "lit/decorators.js";
import type { CatalogueAnswer, Edit } from "../api/client.ts";
import type { PostRow } from "../api/records.ts";
import { typedStation } from "../app/asked_edits.ts";
import { legAt } from "../flat/polyline.ts";
import { controls } from "../look/controls.ts";
import { cornersAt } from "../plan/catching.ts";
import type { Held } from "../plan/hands.ts";
import { EMPTY_PLAN, type PlanModel } from "../plan/model.ts";
import { rowKey } from "../state/row_keys.ts";
import { inPage } from "../texts/program.ts";
import { say } from "../texts/say.ts";
import { type System, showLong } from "../units/show.ts";
import { lengthRefused } from "../units/typed_length.ts";
import { AskingPanel } from "./asking_panel.ts";
import { chooserGroups, hasManyPosts } from "./chooser.ts";
import { disclosure } from "./disclosure.ts";
import type { KnownNames, SchemaNode } from "./fields.ts";
import { knownNames } from "./known_names.ts";
import { isFromFile, joinable } from "./line_acts.ts";
import { rowWords } from "./row_words.ts";
import { isMarkHeld, type Mark, marksAt, marksOf, placeOf } from "./standing.ts";
import "./chosen_post.ts";
import "./job_form.ts";
import "./standing_list.ts";

export type { EditAsked } from "./asking.ts";

type Row = Record<string, unknown>;

@customElement("chosen-thing")
export class ChosenThing extends AskingPanel {
  static override styles = [
    controls,
    disclosure,
    css`
      :host { display: block; }
      form { display: grid; gap: 0.6rem; margin-bottom: 1rem; }
      .row > label:has(.refused) { flex-basis: 100%; }
      job-form { margin-bottom: 1rem; }
    `,
  ];

  /** Id of the job that it is of. */
  @property() job = "";
  @property({ attribute: false }) held: Held | null = null;
  @property({ attribute: false }) model: PlanModel | null = null;
  @property({ attribute: false }) post: PostRow | null = null;
  @property({ attribute: false }) asked: Row = {};
  @property({ attribute: false }) schema: SchemaNode | null = null;
  @property({ attribute: false }) catalogue: CatalogueAnswer | null = null;
  @property() system: System = "us";
  /** Metres in a unit of the plane's own system. */
  @property({ type: Number }) unit_m = 1;
  @property({ type: Boolean }) pinned = false;
  /** A corner that is moved leaves the others at its place behind. */
  @property({ type: Boolean }) alone = false;

  /** The mark of the job file that is held. */
  private marked: Mark | undefined;

  override willUpdate(): void {
    const { held, job } = this;
    const isMark = held?.kind === "gate" || held?.kind === "mark";
    this.marked = isMark ? marksOf(this.asked).find((mark) => isMarkHeld(mark, held)) : undefined;
    const row = held && this.rowOf(held);
    const { id, line, corner, point } = held ?? {};
    // a row is what it is under any number; all else goes by name
    this.isAbout(
      held ? [job, held.kind, ...(row ? [rowKey(row)] : [id, line, corner]), point].join(" ") : "",
    );
  }

  override render(): TemplateResult {
    const inside = this.inside();
    return html`${this.chooser()}
      ${inside ?? html`<p class="quiet">${say("nothing_chosen")}</p>`}${this.refusal()}
      <standing-list .asked=${this.asked} .held=${inside ? this.held : null}></standing-list>`;
  }

  /** Everything that can be chosen, by name: the way without a pointer. */
  private chooser(): TemplateResult {
    const groups = chooserGroups(this.model, this.asked, this.held);
    const all = groups.flatMap(([, things]) => things.map(({ held }) => held));
    const isIt = (held: Held) =>
      held.kind === this.held?.kind &&
      held.id === this.held.id &&
      held.table === this.held.table &&
      held.row === this.held.row;
    return html`<label for="thing-chosen"><span>${say("choose_thing")}</span><select id="thing-chosen"
        @change=${(event: Event) => this.tell("thing-chosen", all[Number((event.target as HTMLSelectElement).value)] ?? null)}>
        <option value="">–</option>
        ${groups.map(([title, things]) => html`<optgroup label=${title}>${things.map(({ held, words }) => html`<option value=${all.indexOf(held)} ?selected=${isIt(held)}>${words}</option>`)}</optgroup>`)}
      </select></label>${hasManyPosts(this.model) ? this.postByName() : nothing}<p></p>`;
  }

  /** Where posts are too many for a list: one is typed. */
  private postByName(): TemplateResult {
    const named = (typed: Record<string, string>) => {
      const post = this.model?.posts.find(
        (each) => each.id.toLowerCase() === (typed.post ?? "").toLowerCase(),
      );
      if (post) this.tell("thing-chosen", { kind: "post", id: post.id });
      return post ? "" : say("no_such_post", { name: typed.post ?? "" });
    };
    return this.form("tool_choose", [["post", say("post_by_name"), ""]], named, "post_by_name");
  }

  private inside(): TemplateResult | null {
    const { held } = this;
    if (!held) return null;
    if (held.kind === "corner") return this.corner(held);
    if (held.kind === "line") return this.line(held.id);
    if (held.kind === "obstacle") return this.obstacle(held);
    if (held.kind === "gate" || held.kind === "mark") return this.mark(held);
    return this.post ? this.onPost(this.post) : null;
  }

  /** What the job file has of an obstacle or the mark that is held. */
  private rowOf(held: Held): Row | undefined {
    return held.kind === "obstacle" ? this.rows("obstacle")[held.row ?? -1] : this.marked?.values;
  }

  private get known(): KnownNames {
    return knownNames(this.catalogue, this.asked);
  }

  private rows(table: string): Row[] {
    return (this.asked[table] ?? []) as Row[];
  }

  /** Places are typed in the unit of the plane that the job names; a local plane has that of the sheets. */
  private get planeSystem(): System {
    const { crs } = (this.asked.site ?? {}) as { crs?: string };
    if (!crs || crs === "local") return this.system;
    return this.unit_m === 1 ? "metric" : "us";
  }

  private plain(value_m: number): string {
    return typedStation(value_m, this.planeSystem);
  }

  /** A row of the job file, every key of it. */
  private row(table: string, row: number, omit: readonly string[] = []): TemplateResult {
    return html`<job-form .schema=${this.schema} .table=${table} .path=${[table, row]} .values=${this.rows(table)[row] ?? {}} .known=${this.known} .omit=${omit} .system=${this.system} .locked=${this.locked}></job-form>`;
  }

  private showPlace(line: string, station_m: number): void {
    const at = placeOf(this.model, line, station_m);
    if (at) this.tell("place-asked", at);
  }

  private corner(held: Held): TemplateResult | null {
    const line = this.model?.lines.find((each) => each.name === held.line);
    const corner = held.corner ?? 0;
    const point = line?.points[corner];
    if (!line || !point) return null;
    const next = line.points[(corner + 1) % line.points.length];
    const middle = next ? [(point[0] + next[0]) / 2, (point[1] + next[1]) / 2] : null;
    const sharing = new Set(cornersAt(this.model ?? EMPTY_PLAN, point).map((each) => each.line));
    sharing.delete(line.name);
    const alone = this.alone && sharing.size ? { shared: false } : {};
    return html`<h2>${say("corner_of", { number: corner + 1, line: line.name })}</h2>
      ${sharing.size ? this.leaving([...sharing]) : nothing}
      ${this.form(
        "move",
        [
          ["x", say("east"), this.plain(point[0])],
          ["y", say("north"), this.plain(point[1])],
        ],
        (typed) => ({ kind: "move_corner", line: line.name, corner, to: [typed.x, typed.y], ...alone }),
      )}
      ${this.form(
        "move_by",
        [
          ["dx", say("by_east"), ""],
          ["dy", say("by_north"), ""],
        ],
        (typed) => movedBy(typed, (by) => ({ kind: "move_corner", line: line.name, corner, by, ...alone })),
      )}
      <div class="row">
        ${middle ? this.act(say("insert_corner"), { kind: "insert_corner", line: line.name, after: corner, at: middle }) : nothing}
        ${this.act(say("remove_corner"), { kind: "remove_corner", line: line.name, corner })}
        ${this.act(line.isClosed ? say("open_here") : say("split_here"), { kind: "split_line", line: line.name, corner })}
      </div>`;
  }

  /** A corner that other fences share takes them along, unless they are left. */
  private leaving(lines: readonly string[]): TemplateResult {
    const words = say("leave_other", { lines: lines.join(", ") });
    return html`<p><button aria-pressed=${this.alone} ?disabled=${this.locked} @click=${() => this.tell("corner-alone", !this.alone)}>${words}</button></p>`;
  }

  private line(name: string): TemplateResult | null {
    const line = this.model?.lines.find((each) => each.name === name);
    if (!line) return null;
    const others = joinable(this.model?.lines ?? [], line);
    const row = this.rows("line").findIndex((each) => each.name === name);
    const pressed = this.held?.station_m;
    const here = pressed === undefined ? this.plain(0) : this.plain(pressed);
    const after = pressed === undefined ? -1 : legAt(line.points, pressed);
    return html`<h2>${name}</h2>
      ${pressed === undefined ? nothing : html`<p class="quiet">${say("pressed_at", { station: showLong(pressed, this.system) })}</p>`}
      ${after >= 0 && this.held?.at ? html`<div class="row">${this.act(say("corner_here"), { kind: "insert_corner", line: name, after, at: [...this.held.at] })}</div>` : nothing}
      ${this.form("rename", [["name", say("name"), name]], (typed) => ({ kind: "rename_line", line: name, name: typed.name }))}
      ${this.form(
        "add_gate",
        [
          ["at", say("station"), here],
          ["opening", say("opening"), this.system === "us" ? "12 ft" : "3.6 m"],
          ["name", say("name"), ""],
        ],
        (typed) => ({
          kind: "add",
          table: "gate",
          values: {
            line: name,
            at: typed.at,
            opening: typed.opening,
            ...(typed.name ? { name: typed.name } : {}),
          },
        }),
      )}
      ${this.form("add_strain", [["at", say("station"), pressed === undefined ? "" : here]], (typed) => ({ kind: "strain_post", line: name, at: typed.at }))}
      ${this.form(
        "add_crossing",
        [
          ["at", say("station"), pressed === undefined ? "" : here],
          ["width", say("width"), ""],
        ],
        (typed) => ({
          kind: "add",
          table: "crossing",
          values: { line: name, at: typed.at, width: typed.width },
        }),
      )}
      ${this.form(
        "move_line",
        [
          ["dx", say("by_east"), ""],
          ["dy", say("by_north"), ""],
        ],
        (typed) => movedBy(typed, (by) => ({ kind: "move_line", line: name, by })),
      )}
      <div class="row">
        ${this.act(line.isClosed ? say("open_line") : say("close_line"), { kind: "close_line", line: name, closed: !line.isClosed })}
        ${others.map((other) => this.act(say("join_with", { line: other.name }), { kind: "join_lines", line: name, other: other.name }))}
        ${isFromFile(this.rows("line")[row]) ? this.act(say("own_points"), { kind: "own_points", line: name }) : nothing}
        ${this.act(say("remove_line"), { kind: "remove_line", line: name })}
      </div>
      ${row < 0 ? nothing : html`<details><summary>${say("more_of_line")}</summary>${this.row("line", row, ["name"])}</details>`}`;
  }

  /** A gate, crossing, strain post, pin, built post, rock met or size: every key of its row. */
  private mark(held: Held): TemplateResult | null {
    const mark = this.marked;
    if (!mark) return null;
    const { table, row } = mark;
    const away = () => this.tell("thing-chosen", null);
    return html`<h2>${held.kind === "gate" ? held.id : mark.words}</h2>
      <div class="row">${this.showPlaceButton(() => this.showPlace(mark.line, mark.station_m))}
        <button @click=${() => this.tell("why-asked", { thing: "", about: "" })}>${say("why")}</button>
        ${this.act(table === "gate" ? say("remove_gate") : say("remove"), { kind: "remove", table, item: row }, away)}</div><p></p>
      ${this.form("move_along", [["by", say("by_along"), ""]], (typed) => ({ kind: "slide", table, item: row, by: typed.by }))}
      ${this.row(table, row)}`;
  }

  private obstacle(held: Held): TemplateResult | null {
    const row = held.row ?? -1;
    const thing = this.model?.obstacles[row];
    if (!thing) return null;
    const [first] = thing.points;
    const isOfFile = Boolean(this.rows("obstacle")[row]?.file);
    const place = this.form(
      "move",
      [
        ["x", say("east"), this.plain(first?.[0] ?? 0)],
        ["y", say("north"), this.plain(first?.[1] ?? 0)],
      ],
      (typed) => ({ kind: "move_obstacle", item: row, point: 0, to: [typed.x, typed.y] }),
    );
    const by = this.form(
      "move_by",
      [
        ["dx", say("by_east"), ""],
        ["dy", say("by_north"), ""],
      ],
      (typed) => movedBy(typed, (by) => ({ kind: "move_obstacle", item: row, by })),
    );
    return html`<h2>${thing.name || inPage(thing.kind)}</h2>
      <div class="row">${first ? this.showPlaceButton(() => this.tell("place-asked", first)) : nothing}
        ${this.act(say("remove"), { kind: "remove", table: "obstacle", item: row }, () => this.tell("thing-chosen", null))}</div><p></p>
      ${isOfFile ? nothing : html`<p class="quiet">${say("drag_points")}</p>`}
      ${isOfFile || thing.points.length !== 1 ? nothing : place}${isOfFile ? nothing : by}
      ${this.row("obstacle", row)}`;
  }

  private onPost(post: PostRow): TemplateResult {
    const marks = marksAt(this.asked, post.line, post.station_m ?? Number.NaN);
    return html`<chosen-post .job=${this.job} .post=${post} .system=${this.system} .locked=${this.locked} .behind=${this.behind} .pinned=${this.pinned} .isSet=${marks.some((mark) => mark.table === "built")}></chosen-post>
      ${marks.length ? html`<h3>${say("asked_here")}</h3>${marks.map((mark) => this.markHere(mark))}` : nothing}`;
  }

  /** What the job says of a post, under its numbers. */
  private markHere(mark: Mark): TemplateResult {
    const { table, row } = mark;
    const words = rowWords(table, mark.values, row);
    return html`<details><summary>${words}</summary>${this.row(table, row)}
      <div class="row"><button ?disabled=${this.locked} aria-label=${`${say("remove")}: ${words}`} @click=${() => this.ask({ kind: "remove", table, item: row })}>${say("remove")}</button></div></details>`;
  }
}

/** A move by so much east and north: one of them may be left empty, not both. */
function movedBy(
  { dx, dy }: Record<string, string>,
  make: (by: readonly [string, string]) => Edit,
): Edit | string {
  return dx || dy ? make([dx || "0 m", dy || "0 m"]) : lengthRefused("");
}

declare global {
  interface HTMLElementTagNameMap {
    "chosen-thing": ChosenThing;
  }
}
