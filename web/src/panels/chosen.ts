/** What is chosen on plan or section, with its numbers to type: corner, line, gate, obstacle, or a post on the ground. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import type { Edit } from "../api/client.ts";
import type { PostRow } from "../api/records.ts";
import { legAt } from "../flat/polyline.ts";
import { controls } from "../look/controls.ts";
import type { Held } from "../plan/hands.ts";
import type { PlanModel } from "../plan/model.ts";
import { say, wordOr } from "../texts/say.ts";
import {
  FOOT_M,
  type System,
  showForce,
  showLong,
  showShare,
  showSmall,
  showStock,
  typedLength,
} from "../units/show.ts";

export interface EditAsked {
  edit: Edit;
  answered?: (refused: string) => void;
}

@customElement("chosen-thing")
export class ChosenThing extends LitElement {
  static override styles = [
    controls,
    css`
      .number { border: 0; background: none; padding: 0; justify-content: start; text-align: left; text-decoration: underline dotted; text-underline-offset: 0.2em; font-variant-numeric: tabular-nums; }
      dl { align-items: center; }
      form { display: grid; gap: 0.6rem; margin-bottom: 1rem; }
      details { margin: 0.5rem 0; }
      summary { min-height: 2.75rem; display: flex; align-items: center; cursor: pointer; font-weight: 600; }
      summary::before { content: "▸"; margin-right: 0.5rem; }
      details[open] > summary::before { content: "▾"; }
    `,
  ];

  @property({ attribute: false }) held: Held | null = null;
  @property({ attribute: false }) model: PlanModel | null = null;
  @property({ attribute: false }) post: PostRow | null = null;
  @property({ attribute: false }) asked: Record<string, unknown> = {};
  @property() system: System = "us";
  @property({ type: Boolean }) locked = false;
  @property({ type: Boolean }) pinned = false;
  @property({ attribute: false }) kinds: readonly string[] = [];
  @state() private refused = "";
  /** Form that was refused: the sentence stands in it, and what was typed stays. */
  @state() private refusedIn = "";

  override willUpdate(changed: Map<string, unknown>): void {
    const before = changed.get("held") as Held | null | undefined;
    if (changed.has("held") && before?.id !== this.held?.id) this.refused = "";
  }

  private ask(edit: Edit, form = ""): void {
    const detail: EditAsked = {
      edit,
      answered: (refused) => {
        this.refused = refused;
        this.refusedIn = form;
      },
    };
    this.dispatchEvent(new CustomEvent("edit-asked", { detail, bubbles: true, composed: true }));
  }

  private tell(name: string, detail: unknown): void {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }

  /** A form whose fields become an edit; empty fields are left out. */
  private form(
    title: string,
    fields: readonly [name: string, title: string, value: string][],
    make: (typed: Record<string, string>) => Edit,
    name = title,
  ): TemplateResult {
    const sent = (event: Event) => {
      event.preventDefault();
      const entries = [...new FormData(event.target as HTMLFormElement).entries()];
      this.ask(make(Object.fromEntries(entries.map(([name, value]) => [name, String(value).trim()]))), name);
    };
    const place = name.replace(/\W+/g, "-"); // one panel has many forms: each field's id is its own
    return html`<form @submit=${sent} aria-label=${name}>
      <div class="row">${fields.map(([key, words, value]) => html`<label for=${`${place}-${key}`}><span>${words}</span><input id=${`${place}-${key}`} name=${key} .value=${value} ?disabled=${this.locked} autocomplete="off" /></label>`)}
      <button ?disabled=${this.locked}>${title}</button></div>
      ${this.refused && this.refusedIn === name ? html`<p class="refused" role="alert">${this.refused}</p>` : nothing}</form>`;
  }

  private act(words: string, edit: Edit): TemplateResult {
    return html`<button ?disabled=${this.locked} @click=${() => this.ask(edit)}>${words}</button>`;
  }

  override render(): TemplateResult {
    const inside = this.inside();
    return html`${this.chooser()}${inside ?? html`<p class="quiet">${say("nothing_chosen")}</p>`}
      ${this.refused && !this.refusedIn ? html`<p class="refused" role="alert">${this.refused}</p>` : nothing}`;
  }

  /** Everything that can be chosen, by name: the way without a pointer. */
  private chooser(): TemplateResult {
    const { model } = this;
    const groups: [string, Held[]][] = model
      ? [
          [say("lines"), model.lines.map((line) => ({ kind: "line", id: line.name }))],
          [
            say("corners"),
            model.lines.flatMap((line) =>
              line.points.map(
                (_, corner): Held => ({
                  kind: "corner",
                  id: `${line.name}/${corner}`,
                  line: line.name,
                  corner,
                }),
              ),
            ),
          ],
          [say("gates"), model.gates.map((gate) => ({ kind: "gate", id: gate.name }))],
          [
            say("obstacles"),
            model.obstacles.map((thing, row) => ({ kind: "obstacle", id: thing.name, row })),
          ],
          [say("posts"), model.posts.map((post) => ({ kind: "post", id: post.id }))],
        ]
      : [];
    const all = groups.flatMap(([, things]) => things);
    const words = (held: Held) =>
      held.kind === "corner"
        ? say("corner_of", { number: (held.corner ?? 0) + 1, line: held.line ?? "" })
        : held.kind === "obstacle"
          ? `${(held.row ?? 0) + 1}. ${model?.obstacles[held.row ?? -1]?.name || model?.obstacles[held.row ?? -1]?.kind}`
          : held.id;
    const isIt = (held: Held) =>
      held.kind === this.held?.kind && held.id === this.held.id && held.row === this.held.row;
    const most = 400; // a list longer than that serves nobody: the plan does
    return html`<label for="thing-chosen"><span>${say("choose_thing")}</span><select id="thing-chosen"
        @change=${(event: Event) => this.tell("thing-chosen", all[Number((event.target as HTMLSelectElement).value)] ?? null)}>
        <option value="">–</option>
        ${groups.map(([title, things]) => (things.length && things.length <= most ? html`<optgroup label=${title}>${things.map((held) => html`<option value=${all.indexOf(held)} ?selected=${isIt(held)}>${words(held)}</option>`)}</optgroup>` : nothing))}
      </select></label><p></p>`;
  }

  private inside(): TemplateResult | null {
    if (!this.held) return null;
    if (this.held.kind === "corner") return this.corner(this.held);
    if (this.held.kind === "line") return this.line(this.held.id);
    if (this.held.kind === "gate") return this.gate(this.held.id);
    if (this.held.kind === "obstacle") return this.obstacle(this.held);
    return this.post ? this.onPost(this.post) : null;
  }

  /** Metres of a typed length that may be negative; what is no length counts as none. */
  private metres(typed: string | undefined): number {
    const text = (typed ?? "").trim();
    const length = typedLength(text.replace(/^[-−]/, ""), this.system);
    return Number.isNaN(length) ? 0 : /^[-−]/.test(text) ? -length : length;
  }

  private plain(value_m: number): string {
    return this.system === "us"
      ? `${Number((value_m / FOOT_M).toFixed(3))} ft`
      : `${Number(value_m.toFixed(3))} m`;
  }

  private corner(held: Held): TemplateResult | null {
    const line = this.model?.lines.find((each) => each.name === held.line);
    const corner = held.corner ?? 0;
    const point = line?.points[corner];
    if (!line || !point) return null;
    const next = line.points[(corner + 1) % line.points.length];
    const middle = next ? [(point[0] + next[0]) / 2, (point[1] + next[1]) / 2] : null;
    return html`<h2>${say("corner_of", { number: corner + 1, line: line.name })}</h2>
      ${this.form(
        say("move"),
        [
          ["x", say("east"), this.plain(point[0])],
          ["y", say("north"), this.plain(point[1])],
        ],
        (typed) => ({ kind: "move_corner", line: line.name, corner, to: [typed.x, typed.y] }),
      )}
      ${this.form(
        say("move_by"),
        [
          ["dx", say("by_east"), ""],
          ["dy", say("by_north"), ""],
        ],
        (typed) => ({
          kind: "move_corner",
          line: line.name,
          corner,
          to: [point[0] + this.metres(typed.dx), point[1] + this.metres(typed.dy)],
        }),
      )}
      <div class="row">
        ${middle ? this.act(say("insert_corner"), { kind: "insert_corner", line: line.name, after: corner, at: middle }) : nothing}
        ${this.act(say("remove_corner"), { kind: "remove_corner", line: line.name, corner })}
        ${this.act(line.isClosed ? say("open_here") : say("split_here"), { kind: "split_line", line: line.name, corner })}
      </div>`;
  }

  private line(name: string): TemplateResult | null {
    const line = this.model?.lines.find((each) => each.name === name);
    if (!line) return null;
    const others = (this.model?.lines ?? []).filter((each) => each.name !== name && !each.isClosed);
    const pressed = this.held?.station_m;
    const here = pressed === undefined ? this.plain(0) : this.plain(pressed);
    const after = pressed === undefined ? -1 : legAt(line.points, pressed);
    return html`<h2>${name}</h2>
      ${pressed === undefined ? nothing : html`<p class="quiet">${say("pressed_at", { station: showLong(pressed, this.system) })}</p>`}
      ${after >= 0 && this.held?.at ? html`<div class="row">${this.act(say("corner_here"), { kind: "insert_corner", line: name, after, at: [...this.held.at] })}</div>` : nothing}
      ${this.form(say("rename"), [["name", say("name"), name]], (typed) => ({ kind: "rename_line", line: name, name: typed.name }))}
      ${this.form(
        say("add_gate"),
        [
          ["at", say("station"), here],
          ["opening", say("opening"), this.system === "us" ? "12 ft" : "3.66 m"],
          ["gate_name", say("name"), ""],
        ],
        (typed) => ({
          kind: "add",
          table: "gate",
          values: {
            line: name,
            at: typed.at,
            opening: typed.opening,
            ...(typed.gate_name ? { name: typed.gate_name } : {}),
          },
        }),
      )}
      ${this.form(say("add_strain"), [["station", say("station"), pressed === undefined ? "" : here]], (typed) => ({ kind: "strain_post", line: name, at: typed.station }))}
      ${this.form(
        say("add_crossing"),
        [
          ["crossing_at", say("station"), pressed === undefined ? "" : here],
          ["width", say("width"), ""],
        ],
        (typed) => ({
          kind: "add",
          table: "crossing",
          values: { line: name, at: typed.crossing_at, width: typed.width },
        }),
      )}
      ${this.form(
        say("move_line"),
        [
          ["dx", say("by_east"), ""],
          ["dy", say("by_north"), ""],
        ],
        (typed) => ({ kind: "move_line", line: name, by: [typed.dx || "0 m", typed.dy || "0 m"] }),
      )}
      <div class="row">
        ${this.act(line.isClosed ? say("open_line") : say("close_line"), { kind: "close_line", line: name, closed: !line.isClosed })}
        ${others.map((other) => this.act(say("join_with", { line: other.name }), { kind: "join_lines", line: name, other: other.name }))}
        ${this.act(say("own_points"), { kind: "own_points", line: name })}
        ${this.act(say("remove_line"), { kind: "remove_line", line: name })}
      </div>`;
  }

  private gate(name: string): TemplateResult | null {
    const gate = this.model?.gates.find((each) => each.name === name);
    if (!gate) return null;
    const rows = (this.asked.gate ?? []) as Record<string, unknown>[];
    const row = rows.findIndex((each, i) => (each.name ?? `gate ${i + 1}`) === name);
    const raw = rows[row] ?? {};
    const set = (key: string, value: unknown): Edit => ({ kind: "set", path: ["gate", row, key], value });
    return html`<h2>${name}</h2>
      ${this.form(say("move"), [["at", say("station"), String(raw.at ?? this.plain(gate.station_m))]], (typed) => ({ kind: "slide", table: "gate", item: row, at: typed.at }))}
      ${this.form(say("change"), [["opening", say("opening"), String(raw.opening ?? "")]], (typed) => set("opening", typed.opening))}
      <div class="row">
        ${this.act(say("swing_left"), set("swing", "left"))}
        ${this.act(say("swing_right"), set("swing", "right"))}
        ${this.act(say("hinge_other"), set("hinge", raw.hinge === "far" ? "near" : "far"))}
        ${this.act(say("remove_gate"), { kind: "remove", table: "gate", item: row })}
      </div>`;
  }

  private obstacle(held: Held): TemplateResult | null {
    const row = held.row ?? -1;
    const thing = this.model?.obstacles[row];
    if (!thing) return null;
    const first = thing.points[0] ?? [0, 0];
    const rows = (this.asked.obstacle ?? []) as Record<string, unknown>[];
    return html`<h2>${thing.name || thing.kind}</h2>
      ${this.form(
        say("move"),
        [
          ["x", say("east"), this.plain(first[0])],
          ["y", say("north"), this.plain(first[1])],
        ],
        (typed) => ({ kind: "move_obstacle", item: row, point: 0, to: [typed.x, typed.y] }),
      )}
      <label for="kind-of"><span>${say("obstacle_kind")}</span><select id="kind-of" ?disabled=${this.locked}
        @change=${(event: Event) => this.ask({ kind: "set", path: ["obstacle", row, "kind"], value: (event.target as HTMLSelectElement).value })}>
        ${this.kinds.map((kind) => html`<option value=${kind} ?selected=${kind === thing.kind}>${kind}</option>`)}</select></label><p></p>
      ${this.form(say("rename"), [["name", say("name"), thing.name]], (typed) => ({ kind: "set", path: ["obstacle", row, "name"], value: typed.name || null }))}
      ${thing.shape === "area" ? nothing : this.form(say("change_radius"), [["radius", say("radius"), String(rows[row]?.radius ?? "")]], (typed) => ({ kind: "set", path: ["obstacle", row, "radius"], value: typed.radius || null }))}
      ${this.form(say("change_clearance"), [["clearance", say("clearance"), String(rows[row]?.clearance ?? "")]], (typed) => ({ kind: "set", path: ["obstacle", row, "clearance"], value: typed.clearance || null }))}
      ${this.act(say("remove"), { kind: "remove", table: "obstacle", item: row })}`;
  }

  private onPost(post: PostRow): TemplateResult {
    const at = { line: post.line, at: post.station_m ?? 0 };
    const { system } = this;
    const why = (about: string, words: string) =>
      html`<button class="number" title=${say("why")} @click=${() => this.tell("why-asked", { thing: post.id, about })}>${words}</button>`;
    return html`<h2>${post.id} · ${wordOr(`role_${post.role}`, post.role)}</h2>
      <dl>
        <dt>${say("station")}</dt><dd>${why("station", `${post.line}, ${showLong(post.station_m, system)}`)}</dd>
        <dt>${say("stock")}</dt><dd>${why("stock length", `${showSmall(post.diameter_m, system)} × ${showStock(post.stock_length_m, system)}`)}</dd>
        <dt>${say("above_ground")}</dt><dd>${why("top above ground", showSmall(post.above_ground_m, system))}</dd>
        <dt>${say("cut")}</dt><dd>${why("cut", post.cut ? showSmall(post.cut_m, system) : say("to_string"))}</dd>
        <dt>${say("hole")}</dt><dd>${why("hole depth", `${showSmall(post.hole_diameter_m, system)} × ${showSmall(post.hole_depth_m, system)}, ${post.set}`)}</dd>
        <dt>${say("utilisation")}</dt><dd>${why("utilisation", `${showShare(post.utilisation)} ${post.governs ?? ""}`)}</dd>
        <dt>${say("uplift")}</dt><dd>${why("uplift", showForce(post.uplift_n, system))}</dd>
        <dt>${say("rail_marks")}</dt><dd>${[...(post.rail_marks_m ?? [])]
          .reverse()
          .map((mark) => showSmall(mark, system))
          .join(", ")}</dd>
      </dl>
      <div class="row"><button @click=${() => this.tell("why-asked", { thing: post.id, about: "" })}>${say("why")}</button></div>
      <h3>${say("top")}</h3>
      ${this.form(say("pin_top"), [["height", say("above_ground"), showSmall(post.above_ground_m, system)]], (typed) => ({ kind: "pin_top", ...at, height: typed.height }))}
      ${this.pinned ? this.act(say("unpin"), { kind: "unpin", ...at }) : nothing}
      ${post.role === "line" ? this.form(say("move_along"), [["along", say("by_along"), ""]], (typed) => ({ kind: "add", table: "pin", values: { line: post.line, at: this.plain((post.station_m ?? 0) + this.metres(typed.along)), post: true } })) : nothing}
      <h3>${say("on_the_ground")}</h3>
      <details><summary>${say("post_set")}</summary>${this.form(
        say("keep_it"),
        [
          ["at", say("really_at"), this.plain(post.station_m ?? 0)],
          ["offset", say("left_of_line"), ""],
          ["depth", say("depth"), ""],
          ["height", say("cut_top"), ""],
        ],
        (typed) => ({
          kind: "post_set",
          line: post.line,
          ...Object.fromEntries(Object.entries(typed).filter(([, value]) => value)),
          at: typed.at ?? "",
        }),
        say("post_set"),
      )}</details>
      <details><summary>${say("met_rock")}</summary>${this.form(say("keep_it"), [["depth", say("stopped_at"), ""]], (typed) => ({ kind: "met_rock", ...at, depth: typed.depth }), say("met_rock"))}</details>
      <div class="row">${post.role === "line" ? this.act(say("make_strain"), { kind: "strain_post", ...at }) : nothing}</div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "chosen-thing": ChosenThing;
  }
}
