/** Buttons, fields and headings as every part of the page draws them. */

import { css } from "lit";

export const controls = css`
  *, *::before, *::after { box-sizing: border-box; }
  button, .button { font: inherit; color: var(--ink); background: var(--paper); border: 1px solid var(--soft); border-radius: 4px; min-height: 2.75rem; min-width: 2.75rem; padding: 0 0.8rem; cursor: pointer; text-decoration: none; display: inline-flex; align-items: center; justify-content: center; gap: 0.4rem; }
  button:hover:not(:disabled), .button:hover { border-color: var(--accent); }
  button:disabled { opacity: 0.55; cursor: default; }
  button[aria-pressed="true"], button.main { background: var(--accent); color: var(--on-accent); border-color: var(--accent); }
  input, select, textarea { font: inherit; color: inherit; min-height: 2.75rem; padding: 0 0.6rem; border: 1px solid var(--soft); border-radius: 4px; background: var(--paper); min-width: 0; }
  label { display: grid; gap: 0.15rem; }
  label > span { font-weight: 600; font-size: 0.9rem; }
  label.button { display: inline-flex; position: relative; }
  label.button:focus-within { outline: 3px solid var(--accent); outline-offset: 1px; }
  label.button > span { font-weight: 400; font-size: 1rem; }
  h2 { font-size: 1.1rem; margin: 0 0 0.5rem; }
  h3 { font-size: 1rem; margin: 1rem 0 0.4rem; }
  p { margin: 0.3rem 0; }
  small { color: var(--soft); }
  .row { display: flex; flex-wrap: wrap; gap: 0.5rem; align-items: end; }
  .row > label { flex: 1 1 7rem; }
  .quiet { color: var(--soft); }
  .refused { color: var(--stop); font-weight: 600; }
  .wide { overflow-x: auto; }
  :focus-visible { outline: 3px solid var(--accent); outline-offset: 1px; }
  dl { display: grid; grid-template-columns: fit-content(50%) 1fr; gap: 0.2rem 0.8rem; margin: 0; font-variant-numeric: tabular-nums; }
  dt { color: var(--soft); }
  dd { margin: 0; overflow-wrap: anywhere; }
  .only-heard { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
`;
