/** Where things stand: drawing first; beside it the panels, or on a narrow screen one at a time. */

import { css } from "lit";

export const jobViewStyles = css`
  :host { display: grid; grid-template-rows: auto minmax(0, 1fr); height: 100%; position: relative; }
  .alone { padding: 1rem; }
  .head { display: flex; gap: 0.5rem; align-items: center; flex-wrap: wrap; padding: 0.3rem 0.6rem; border-bottom: 1px solid var(--line); }
  h1 { font-size: 1.1rem; margin: 0 0.5rem 0 0; overflow-wrap: anywhere; }
  .state { color: var(--soft); font-size: 0.9rem; }
  .body { display: grid; min-height: 0; grid-template: minmax(0, 3fr) minmax(11rem, 2fr) / minmax(0, 1fr) minmax(22rem, 34rem); grid-template-areas: "plan side" "section side"; }
  .plan, .section, .panel { contain: layout; }
  .plan { grid-area: plan; position: relative; min-height: 0; display: grid; grid-template-rows: auto auto minmax(0, 1fr); }
  .sheet { grid-row: 3; position: relative; min-height: 0; }
  .plan fence-plan { height: 100%; }
  .glass { position: absolute; right: 0.5rem; bottom: 0.5rem; display: flex; gap: 0.3rem; z-index: 2; }
  .picked { display: none; }
  .short { display: none; }
  .section { grid-area: section; position: relative; min-height: 0; border-top: 1px solid var(--line); }
  .section fence-section { height: 100%; }
  .side { grid-area: side; border-left: 1px solid var(--line); min-height: 0; display: grid; grid-template-rows: auto minmax(0, 1fr); }
  .tools { display: flex; gap: 0.3rem; flex-wrap: wrap; padding: 0.3rem; border-bottom: 1px solid var(--line); }
  .drawing { padding: 0.5rem; border-bottom: 1px solid var(--line); background: var(--raised); }
  .tabs { display: flex; flex-wrap: wrap; gap: 0.2rem; padding: 0.3rem; border-bottom: 1px solid var(--line); background: var(--raised); }
  .tabs button { border-color: transparent; background: none; padding: 0 0.6rem; }
  .tabs button[aria-selected="true"] { border-color: var(--accent); background: var(--paper); font-weight: 600; }
  .tabs b { background: var(--stop); color: var(--paper); border-radius: 1rem; padding: 0 0.45rem; font-size: 0.8rem; }
  .tabs .narrow { display: none; }
  .panel { overflow: auto; padding: 0.8rem; min-height: 0; }
  .told { position: absolute; left: 50%; bottom: 1rem; transform: translateX(-50%); margin: 0; padding: 0.6rem 1rem; background: var(--ink); color: var(--paper); border-radius: 4px; z-index: 20; max-width: 90%; }
  .told[hidden] { display: none; }
  @media (max-width: 60rem) {
    .body { grid-template: minmax(0, 1fr) auto / minmax(0, 1fr); grid-template-areas: "shown" "tabs"; }
    .plan, .section { grid-area: shown; display: none; border: 0; }
    .body[data-view="plan"] .plan { display: grid; }
    .body[data-view="section"] .section { display: block; }
    .side { display: contents; }
    .panel { grid-area: shown; }
    .body[data-view="plan"] .panel, .body[data-view="section"] .panel { display: none; }
    .tabs { grid-area: tabs; flex-wrap: nowrap; overflow-x: auto; border-top: 1px solid var(--line); border-bottom: 0; }
    .tabs button { flex: none; }
    .tabs .narrow { display: inline-flex; }
    .head { display: grid; grid-template-columns: minmax(0, 1fr) auto auto; gap: 0.1rem 0.4rem; }
    .head h1 { overflow: hidden; text-overflow: ellipsis; white-space: nowrap; }
    .state { grid-column: 1 / -1; }
    .plan { grid-template-rows: auto auto minmax(0, 1fr) auto; }
    .picked { grid-row: 4; display: flex; gap: 0.6rem; align-items: center; justify-content: space-between; padding: 0.3rem 0.6rem; border-top: 1px solid var(--line); background: var(--raised); }
    .picked strong { overflow-wrap: anywhere; }
  }
  @media (max-width: 36rem) {
    .long { display: none; }
    .short { display: inline; }
    .tools { gap: 0.2rem; }
    .tools button { flex: 1 1 auto; padding: 0 0.4rem; }
    .drawing { max-height: 45vh; overflow: auto; }
    .glass button { padding: 0 0.5rem; }
  }
`;
