/** The drawing of an open job: plan and long section, made from the tables of its design as they come. */

import type { ReactiveController, ReactiveControllerHost } from "lit";
import { api } from "../api/client.ts";
import type { Point } from "../flat/bearing.ts";
import { EMPTY_PLAN, type PlanModel } from "../plan/model.ts";
import type { FencePlan } from "../plan/view.ts";
import type { SectionLine } from "../section/model.ts";
import { type DrawnSection, planOf, sectionNames, sectionOf } from "../state/drawn.ts";
import type { Session } from "../state/session.ts";
import type { Tables } from "../state/tables.ts";

/** Stages after which the top line follows, and how long it is waited for. */
const FOLLOWED: ReadonlySet<string> = new Set(["site", "layout"]);
const FOLLOWED_MS = 150;
const NOWHERE: readonly Point[] = [];

/** Holds what plan and section draw; calls `drew` whenever an answer has been taken. */
export class DrawnJob implements ReactiveController {
  plan: PlanModel = EMPTY_PLAN;
  section: SectionLine | null = null;
  /** Name of the line that the section shows. */
  line = "";
  /** Name that the section's line is given by an edit under way: it is shown once it has come. */
  private awaited = "";
  private session: Session | null = null;
  private planFrom: { tables: Tables; plan: PlanModel } | null = null;
  private sectionFrom: DrawnSection | null = null;
  private timer = 0;
  private groundKey = "";

  constructor(
    private readonly host: ReactiveControllerHost,
    private readonly drew: () => void,
  ) {
    host.addController(this);
  }

  hostDisconnected(): void {
    clearTimeout(this.timer);
  }

  /** Draw this job from now on. */
  follow(session: Session): void {
    this.session = session;
    session.addEventListener("refused", () => this.take());
    session.addEventListener("answer", (event) => this.answered((event as CustomEvent<string>).detail));
  }

  /** Whether anything has been told to draw, if only that nothing can be. */
  get isBegun(): boolean {
    return this.planFrom !== null;
  }

  /** Names of the lines that have a long section. */
  get lines(): readonly string[] {
    return sectionNames(this.session?.answer.tables ?? {});
  }

  /** Show the long section of a line; one that has none is passed over. */
  showLine(name: string): void {
    if (name === this.line || !this.lines.includes(name)) return;
    this.line = name;
    this.take();
  }

  /** The line that the section shows gets another name. */
  rename(before: string, name: string): void {
    if (this.line === before) this.awaited = name;
  }

  /** Draw what is known anew, where a hand left something else. */
  again(): void {
    if (this.section) this.section = { ...this.section };
    this.host.requestUpdate();
  }

  /** Lines and posts without their tops wait a moment: as a rule the top line follows, and one frame shows them all. */
  private answered(stage: string): void {
    if (this.planFrom === null || !FOLLOWED.has(stage)) this.take(stage);
    else if (!this.timer) this.timer = window.setTimeout(() => this.take(), FOLLOWED_MS);
  }

  private take(stage = ""): void {
    clearTimeout(this.timer);
    this.timer = 0;
    const { session } = this;
    if (!session) return;
    const { tables, bands, pending } = session.answer;
    const were = (session.isCompared && session.changes?.were) || NOWHERE;
    this.plan = planOf(tables, this.planFrom, were);
    this.planFrom = { tables, plan: this.plan };
    const names = sectionNames(tables);
    if (names.includes(this.awaited)) {
      this.line = this.awaited;
      this.awaited = "";
    }
    if (!names.includes(this.line)) this.line = names[0] ?? "";
    const before = this.sectionFrom;
    const line = this.line ? sectionOf(tables, this.line, bands, before) : null;
    this.sectionFrom = line && { tables, bands, line };
    // a whole answer is told even where it changes nothing, so that a top let go does not hang where the hand left it
    if (line !== before?.line) this.section = line;
    else if (line && pending.length === 0 && stage !== "changes") this.section = { ...line };
    this.drew();
    this.host.requestUpdate();
    performance.mark("fence-answer", { detail: session.state.head });
  }

  /** The post of a line that stands nearest to a station. */
  nearestPost(line: string, station_m: number | null | undefined): PlanModel["posts"][number] | undefined {
    if (!line || typeof station_m !== "number") return undefined;
    const away = (post: PlanModel["posts"][number]) => Math.abs(post.station_m - station_m);
    return this.plan.posts.filter((post) => post.line === line).sort((a, b) => away(a) - away(b))[0];
  }

  /** Lay the terrain under the plan again where the ground's file or the lines' extent may have changed. */
  async lookAtGround(plan: FencePlan): Promise<void> {
    const { session } = this;
    const site = session?.state.asked.site as Record<string, unknown> | undefined;
    const ground = site?.ground ?? "flat";
    const key = JSON.stringify([ground, site?.ground_unit ?? "", session?.state.files.length ?? 0]);
    if (!session || key === this.groundKey) return;
    this.groundKey = key;
    try {
      await plan.showTerrain(ground === "flat" ? null : await api.terrain(session.state.id));
    } catch {
      this.groundKey = ""; // the findings say what is wrong with the ground; it is asked for again after the next edit
    }
  }
}
