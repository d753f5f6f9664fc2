/** The answers that the page draws from, as the service sends them. */

import type { components } from "./schema.ts";

export type DesignFile = components["schemas"]["DesignFile"];
export type PostRow = DesignFile["posts"][number];
export type OrderRow = DesignFile["order"][number];
export type RollRow = DesignFile["rolls"][number];
export type PullRow = DesignFile["pulls"][number];
export type TensionRow = DesignFile["tension"][number];
export type SiteCheckRow = DesignFile["site_checks"][number];
export type CheckRow = DesignFile["checks"][number];
export type FindingRow = DesignFile["findings"][number];
export type Summary = DesignFile["summary"];
