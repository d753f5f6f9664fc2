/** Whether an edit changed nothing: known without what compares, which is fetched later. */

import type { Changes } from "./changes.ts";

/** Nothing at all changed. */
export function isNothing(changes: Changes): boolean {
  const lists = [
    changes.sums,
    changes.order,
    changes.moved,
    changes.added,
    changes.spacing,
    changes.tops,
    changes.cuts,
    changes.stock,
    changes.holes,
    changes.set,
  ];
  return changes.gone === 0 && changes.rolls === 0 && lists.every((list) => list.length === 0);
}
