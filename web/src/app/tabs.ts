/** The row of tabs: one for each panel, and on a narrow screen for plan and section too. */

import { html, nothing, type TemplateResult } from "lit";
import { say } from "../texts/say.ts";
import { tabKeyed } from "./keyboard.ts";
import { NARROW_VIEWS, PANELS, titleOf, type ViewName } from "./panels.ts";

export function tabsOf(shown: ViewName, stops: number, show: (view: ViewName) => void): TemplateResult {
  const tab = (name: ViewName, isNarrow: boolean) =>
    html`<button role="tab" class=${isNarrow ? "narrow" : ""} aria-selected=${shown === name} tabindex=${shown === name ? 0 : -1}
      @click=${() => show(name)}><span data-words=${say(titleOf(name))}>${say(titleOf(name))}</span>${name === "findings" ? html` <b class=${stops ? "" : "none"}>${stops > 99 ? "99+" : stops || ""}</b>` : nothing}</button>`;
  return html`<div class="tabs" role="tablist" aria-label=${say("panels")} @keydown=${tabKeyed}>
      ${NARROW_VIEWS.map((name) => tab(name, true))}${PANELS.map((name) => tab(name, false))}</div>`;
}
