/** Where things stand: drawing first; beside it or below it the panels, or on a narrow screen one at a time. */

import { css, unsafeCSS } from "lit";
import { NARROW, STACKED } from "./panes.ts";

export const jobViewStyles = css`
  :host { display: grid; grid-template-rows: auto minmax(0, 1fr); height: 100%; position: relative; }
  :host([hidden]) { display: none; }
  .alone { padding: 1rem; }
  .head { display: flex; gap: 0.3rem 0.5rem; align-items: center; flex-wrap: wrap; padding: 0.2rem 0.6rem; border-bottom: 1px solid var(--line); }
  h1 { font-size: 1.1rem; margin: 0 0.5rem 0 0; overflow-wrap: anywhere; }
  ::slotted(*) { flex: none; }
  .state { color: var(--soft); font-size: 0.9rem; flex: 1 1 6rem; line-height: 1.2; }
  .body { display: grid; min-height: 0; grid-template: minmax(0, 1fr) 9px var(--section, clamp(11rem, 30%, 18rem)) / minmax(0, 1fr) 9px var(--side, clamp(22rem, 41.5%, 37.5rem)); grid-template-areas: "plan beside side" "between beside side" "section beside side"; }
  .beside { grid-area: beside; }
  .between { grid-area: between; }
  /* no size here hangs on what is inside, but for that of a folded section, which is as high as its strip */
  .plan, .panel { contain: layout size; }
  .section { contain: layout; }
  .plan { grid-area: plan; position: relative; min-height: 0; display: grid; grid-template-rows: auto minmax(0, 1fr) auto; }
  .sheet { grid-row: 2; position: relative; min-height: 0; }
  .plan fence-plan { height: 100%; }
  .glass { position: absolute; right: 0.5rem; bottom: 0.5rem; display: flex; gap: 0.3rem; z-index: 2; }
  .picked { display: none; }
  .short { display: none; }
  .section { grid-area: section; position: relative; min-height: 0; }
  .section fence-section { height: 100%; }
  .side { grid-area: side; min-height: 0; display: grid; grid-template-rows: auto minmax(0, 1fr); }
  .tools { display: flex; gap: 0.3rem; flex-wrap: wrap; padding: 0.2rem 0.3rem; border-bottom: 1px solid var(--line); }
  .drawing { grid-row: 3; padding: 0.3rem 0.5rem; border-top: 1px solid var(--line); background: var(--raised); }
  .tabs { display: flex; flex-wrap: wrap; gap: 0; padding: 0.15rem; border-bottom: 1px solid var(--line); background: var(--raised); }
  .tabs button { position: relative; border-color: transparent; background: none; padding: 0 0.4rem; }
  .tabs button:has(b) { padding-right: 1.25rem; }
  .tabs button[aria-selected="true"] { border-color: var(--accent); background: var(--paper); font-weight: 600; }
  /* words keep the width that they have when they are chosen, and the count of stops its room: no tab pushes another into the next row */
  .tabs span::after { content: attr(data-words); display: block; height: 0; overflow: hidden; visibility: hidden; font-weight: 600; }
  .tabs b { position: absolute; top: 0.15rem; right: 0.05rem; background: var(--stop); color: var(--paper); border-radius: 1rem; padding: 0 0.3rem; min-width: 1.3rem; text-align: center; font-size: 0.8rem; line-height: 1.3; }
  .tabs b.none { visibility: hidden; }
  .tabs .narrow { display: none; }
  .panel { overflow: auto; padding: 0.8rem; min-height: 0; min-width: 0; }
  /* in the head, where it lies on nothing that a hand works at */
  .told { position: absolute; right: 17rem; top: 0.2rem; margin: 0; padding: 0.6rem 1rem; background: var(--ink); color: var(--paper); border-radius: 4px; z-index: 20; max-width: min(38rem, calc(100% - 18rem)); font-size: 0.9rem; pointer-events: none; }
  .told[hidden] { display: none; }
  @media ${unsafeCSS(STACKED)} {
    .body { grid-template: minmax(0, 1fr) 9px var(--section, 22%) 9px var(--below, 38%) / minmax(0, 1fr); grid-template-areas: "plan" "between" "section" "beside" "side"; }
  }
  @media ${unsafeCSS(NARROW)} {
    .body { grid-template: minmax(0, 1fr) auto / minmax(0, 1fr); grid-template-areas: "shown" "tabs"; }
    .beside, .between { display: none; }
    .plan, .section { grid-area: shown; display: none; border: 0; }
    .body[data-view="plan"] .plan { display: grid; }
    .body[data-view="section"] .section { display: grid; grid-template-rows: minmax(0, 1fr) auto; }
    .side { display: contents; }
    .panel { grid-area: shown; }
    .body[data-view="plan"] .panel, .body[data-view="section"] .panel { display: none; }
    .tabs { grid-area: tabs; flex-wrap: nowrap; overflow-x: auto; border-top: 1px solid var(--line); border-bottom: 0; }
    .tabs button { flex: none; }
    .tabs .narrow { display: inline-flex; }
    .head { display: grid; grid-template-columns: minmax(0, 1fr) auto auto; gap: 0.1rem 0.4rem; }
    ::slotted([slot="home"]) { grid-area: 1 / 1; }
    ::slotted([slot="settings"]) { grid-area: 1 / 2 / auto / -1; justify-self: end; }
    .head h1 { overflow: hidden; text-overflow: ellipsis; white-space: nowrap; }
    .state { grid-column: 1 / -1; }
    .told { right: 0.6rem; left: 0.6rem; max-width: none; }
    .plan { grid-template-rows: auto minmax(0, 1fr) auto auto; }
    .plan .picked { grid-row: 4; }
    .picked { display: flex; gap: 0.4rem; align-items: center; padding: 0.3rem 0.6rem; border-top: 1px solid var(--line); background: var(--raised); }
    .picked strong { overflow-wrap: anywhere; flex: 1 1 auto; }
    .picked button { padding: 0 0.5rem; }
    .picked .next { flex: 0 1 auto; min-width: 3rem; }
    .picked .next span { overflow: hidden; text-overflow: ellipsis; white-space: nowrap; }
  }
  @media (max-width: 36rem) {
    .long { display: none; }
    .short { display: inline; }
    .tools { gap: 0.2rem; }
    .tools button { flex: 1 1 auto; padding: 0 0.4rem; }
    .glass { gap: 0.2rem; }
    .glass button { padding: 0 0.4rem; }
  }
`;
