/** How a part that opens and closes looks, wherever a panel has one. */

import { css } from "lit";

export const disclosure = css`
  details { margin: 0.5rem 0; }
  summary { min-height: 2.75rem; display: flex; align-items: center; cursor: pointer; font-weight: 600; overflow-wrap: anywhere; }
  summary::before { content: "▸"; margin-right: 0.5rem; }
  details[open] > summary::before { content: "▾"; }
`;
