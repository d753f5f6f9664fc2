/** A chosen post: its numbers, each a way to its why; its top; and what a builder meets on the ground. */

import { css, html, nothing, type TemplateResult } from "lit";
import { customElement, property } from "lit/decorators.js";
import type { PostRow } from "../api/records.ts";
import { typedStation } from "../app/asked_edits.ts";
import { controls } from "../look/controls.ts";
import { inPage } from "../texts/program.ts";
import { say, wordOr } from "../texts/say.ts";
import {
  type System,
  showForce,
  showLong,
  showShare,
  showSmall,
  showStock,
  smallInField,
} from "../units/show.ts";
import { lengthRefused, typedLength } from "../units/typed_length.ts";
import { AskingPanel } from "./asking_panel.ts";
import { disclosure } from "./disclosure.ts";

/** A post that another revision shifts by less is still the one that it was. [m] */
const SAME_PLACE_M = 0.1;

@customElement("chosen-post")
export class ChosenPost extends AskingPanel {
  static override styles = [
    controls,
    disclosure,
    css`
      :host { display: block; }
      .number { border: 0; background: none; padding: 0; justify-content: start; text-align: left; text-decoration: underline dotted; text-underline-offset: 0.2em; font-variant-numeric: tabular-nums; }
      dl { align-items: center; }
      .marks { display: flex; flex-wrap: wrap; column-gap: 1rem; }
      form { display: grid; gap: 0.6rem; margin-bottom: 1rem; }
      .row > label:has(.refused) { flex-basis: 100%; }
    `,
  ];

  @property({ attribute: false }) post: PostRow | null = null;
  /** Id of the job whose post it is. */
  @property() job = "";
  @property() system: System = "us";
  @property({ type: Boolean }) pinned = false;
  /** It was entered as already set: what was entered stands in a form of its own. */
  @property({ type: Boolean }) isSet = false;

  override willUpdate(): void {
    const { post, job } = this;
    // after another layout the same id may be that of another post, to which what was typed does not belong
    const place = Math.round((post?.station_m ?? 0) / SAME_PLACE_M);
    this.isAbout(post ? [job, post.line, post.id, place].join(" ") : "");
  }

  override render(): TemplateResult | typeof nothing {
    const { post, system } = this;
    if (!post) return nothing;
    const at = { line: post.line, at: post.station_m ?? 0 };
    return html`${this.numbers(post)}
      <h3>${say("top")}</h3>
      ${this.form("pin_top", [["height", say("above_ground"), smallInField(post.above_ground_m, system)]], (typed) => ({ kind: "pin_top", ...at, height: typed.height }))}
      ${this.pinned ? this.act(say("unpin"), { kind: "unpin", ...at }) : nothing}
      ${post.role === "line" ? this.along(post) : nothing}
      <h3>${say("on_the_ground")}</h3>
      ${this.onTheGround(post, at)}
      <div class="row">${post.role === "line" ? this.act(say("make_strain"), { kind: "strain_post", ...at }) : nothing}</div>
      ${this.refusal()}`;
  }

  private along(post: PostRow): TemplateResult {
    return this.form("move_along", [["along", say("by_along"), ""]], (typed) => {
      const along_m = typedLength(typed.along ?? "");
      if (Number.isNaN(along_m)) return lengthRefused(typed.along ?? "");
      const station = typedStation((post.station_m ?? 0) + along_m, this.system);
      return { kind: "add", table: "pin", values: { line: post.line, at: station, post: true } };
    });
  }

  private onTheGround(post: PostRow, at: { line: string; at: number }): TemplateResult {
    const set = this.form(
      "keep_it",
      [
        ["at", say("really_at"), typedStation(post.station_m ?? 0, this.system)],
        ["offset", say("left_of_line"), ""],
        ["depth", say("depth"), ""],
        ["height", say("cut_top"), ""],
        ["ground", say("ground_there"), ""],
      ],
      (typed) => ({
        kind: "post_set",
        ...at,
        ...Object.fromEntries(Object.entries(typed).filter(([, value]) => value)),
        at: typed.at ?? "",
      }),
      "post_set",
    );
    const rock = this.form(
      "keep_it",
      [["depth", say("stopped_at"), ""]],
      (typed) => ({ kind: "met_rock", ...at, depth: typed.depth }),
      "met_rock",
    );
    return html`${this.isSet ? nothing : html`<details ?open=${this.isTypedIn("post_set")}><summary>${say("post_set")}</summary>${set}</details>`}
      <details ?open=${this.isTypedIn("met_rock")}><summary>${say("met_rock")}</summary>${rock}</details>`;
  }

  private numbers(post: PostRow): TemplateResult {
    const { system } = this;
    const why = (about: string, words: string, thing = post.id) =>
      html`<button class="number" title=${say("why")} @click=${() => this.tell("why-asked", { thing, about })}>${words}</button>`;
    return html`<h2>${post.id} · ${wordOr(`role_${post.role}`, post.role)}</h2>
      <dl>
        <dt>${say("station")}</dt><dd>${why("station", `${post.line}, ${showLong(post.station_m, system)}`)}</dd>
        <dt>${say("stock")}</dt><dd>${why("stock length", `${showSmall(post.diameter_m, system)} × ${showStock(post.stock_length_m, system)}`)}</dd>
        <dt>${say("above_ground")}</dt><dd>${why("top above ground", showSmall(post.above_ground_m, system))}</dd>
        <dt>${say("cut")}</dt><dd>${why("cut", post.cut ? showSmall(post.cut_m, system) : say("to_string"))}</dd>
        <dt>${say("hole")}</dt><dd>${why("hole depth", `${showSmall(post.hole_diameter_m, system)} × ${showSmall(post.hole_depth_m, system)}, ${inPage(post.set ?? "")}`)}</dd>
        <dt>${say("utilisation")}</dt><dd>${why("utilisation", `${showShare(post.utilisation)} ${inPage(post.governs ?? "")}`)}</dd>
        <dt>${say("uplift")}</dt><dd>${why("uplift", showForce(post.uplift_n, system))}</dd>
        <dt>${say("rail_marks")}</dt><dd class="marks">${[...(post.rail_marks_m ?? []).entries()]
          .reverse()
          .map(([strand, mark]) =>
            why("rail mark", showSmall(mark, system), `${post.id}-${strand + 1}`),
          )}</dd>
      </dl>
      <div class="row"><button @click=${() => this.tell("why-asked", { thing: post.id, about: "" })}>${say("why")}</button></div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "chosen-post": ChosenPost;
  }
}
