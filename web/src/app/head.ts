/** The strip above the drawing: the job's name, undo and redo, and the state of its design. */

import { html, nothing, type TemplateResult } from "lit";
import type { Session } from "../state/session.ts";
import { inPage, langOfSaid } from "../texts/program.ts";
import { say } from "../texts/say.ts";
import { stageNames } from "./panels.ts";

/** The head before there is a job to speak of. */
export function bareHead(): TemplateResult {
  return html`<div class="head"><slot name="home"></slot><slot name="settings"></slot></div>`;
}

export function headOf(session: Session, locked: boolean): TemplateResult {
  const { state: job } = session;
  const lost = html` · <span class="refused">${say("no_line")}</span>`;
  return html`<div class="head">
      <slot name="home"></slot>
      <h1>${job.name}</h1>
      <button @click=${() => void session.undo()} ?disabled=${job.undo === null || locked} title=${inPage(job.undo ?? "")}>${say("undo")}</button>
      <button @click=${() => void session.redo()} ?disabled=${job.redo === null || locked} title=${inPage(job.redo ?? "")}>${say("redo")}</button>
      <span class="state" role="status">${say("revision", { number: job.head })} · ${stateOf(session)}${session.isConnected ? nothing : lost}</span>
      <slot name="settings"></slot>
    </div>`;
}

/** A job begins without a line: that is no fault of it. */
export function isBare(asked: Record<string, unknown>): boolean {
  return ((asked.line ?? []) as unknown[]).length === 0;
}

/** Whether it may be built, what is still to come, or why there is no design. */
function stateOf({ answer, refused, state }: Session): TemplateResult | string {
  if (refused && isBare(state.asked)) return say("draw_first_line");
  if (refused) return html`<span class="refused" lang=${langOfSaid(refused)}>${inPage(refused)}</span>`;
  // what is shown answers the revision before until its own design begins to come
  const isBefore = answer.digest !== "" && answer.revision !== state.head;
  const pending = isBefore && answer.pending.length === 0 ? ["design"] : answer.pending;
  if (pending.length > 0) return say("following", { stages: stageNames(pending) });
  if (answer.mayBeBuilt === false) return html`<span class="refused">${say("not_to_be_built")}</span>`;
  return say(answer.mayBeBuilt ? "may_be_built" : "no_design_yet");
}
