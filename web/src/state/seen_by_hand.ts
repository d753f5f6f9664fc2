/** What the hand means is meant by the numbers that it sees: edits go out on the revision that it saw. */

import type { Edit, JobState } from "../api/client.ts";
import { isRenumbering } from "./renumbering.ts";

export class SeenByHand {
  /** What is drawn, where a newer state that may have other numbers is not drawn yet. */
  private drawnState: JobState | null = null;
  /** Own edits under way that give rows other numbers. */
  private renumbering = 0;

  constructor(private readonly newest: () => JobState) {}

  /** The state whose rows and corners the hand sees: a row's number is sought there. */
  get state(): JobState {
    return this.drawnState ?? this.newest();
  }

  /** The revision that an edit asked now is meant on; null where it is the newest, also after own edits that are under way. */
  get base(): number | null {
    return this.drawnState || this.renumbering > 0 ? this.state.head : null;
  }

  /** A state comes in which rows and corners may have other numbers. */
  comes(): void {
    this.drawnState ??= this.newest();
  }

  /** The state is drawn: the hand sees it. */
  drawn(): void {
    this.drawnState = null;
  }

  /** An own edit goes out; gives what is to be done with the state that it makes, and once it is over. */
  sends(edit: Edit): { accepted: () => void; over: () => void } {
    if (!isRenumbering(edit)) return { accepted: () => {}, over: () => {} };
    this.renumbering += 1;
    return {
      accepted: () => this.comes(),
      over: () => {
        this.renumbering -= 1;
      },
    };
  }
}
