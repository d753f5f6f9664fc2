/** How the plan's frame and what lies on its glass look. */

import { css, unsafeCSS } from "lit";
import mapStyles from "ol/ol.css?inline";

export const planStyles = [
  unsafeCSS(mapStyles),
  css`
    :host { display: block; position: relative; background: var(--paper); min-height: 10rem; }
    .map { position: absolute; inset: 0; touch-action: none; }
    .map:focus-visible { outline: 3px solid var(--accent); outline-offset: -3px; }
    .bar { position: absolute; left: 0.5rem; bottom: 0.4rem; display: grid; gap: 2px; font-size: 0.8rem; pointer-events: none; color: var(--ink); }
    .bar i { display: block; height: 6px; border: 1.5px solid var(--ink); border-top: 0; }
    .bar .dense { display: flex; align-items: center; gap: 0.4rem; padding: 0 0.2rem; background: color-mix(in srgb, var(--paper) 80%, transparent); }
    .bar .dense::before { content: ""; width: 22px; height: 7px; background: color-mix(in srgb, var(--soft) 45%, transparent); border-block: 1.5px solid var(--soft); }
    .bar .dense[hidden] { display: none; }
    .legend { position: absolute; left: 0.5rem; top: 0.5rem; display: grid; gap: 0.1rem; font-size: 0.8rem; padding: 0.4rem 0.6rem; background: var(--paper); border: 1px solid var(--line); pointer-events: none; }
    .legend span { display: flex; align-items: center; gap: 0.4rem; min-height: 1.4rem; }
    .legend i { width: 10px; height: 10px; border-radius: 50%; margin: 0 10px; border: 1px solid var(--soft); }
    .legend .u1 { width: 16px; height: 16px; margin: 0 7px; border: 1.8px solid var(--note); }
    .legend .u2 { width: 22px; height: 22px; margin: 0 4px; border: 2.6px solid var(--caution); }
    .legend .u3 { width: 28px; height: 28px; margin: 0 1px; border-color: var(--stop); background: var(--stop); }
    @media (max-width: 36rem) { .bar { bottom: 3.6rem; } }
    .over { position: absolute; inset: 0.5rem; display: grid; place-items: center; text-align: center; padding: 1rem; border: 3px dashed var(--accent); background: color-mix(in srgb, var(--paper) 80%, transparent); font-weight: 600; pointer-events: none; }
    .north { position: absolute; right: 0.6rem; top: 0.5rem; width: 26px; height: 34px; pointer-events: none; color: var(--ink); }
  `,
];
