/** What a hand tries while it drags: one at a time goes out, and the newest waits. */

import { api, type Edit } from "../api/client.ts";

export class Trials {
  /** The number of the last one that went out. */
  private last = 0;
  private waiting: Edit | null = null;
  /** A hand holds what it tries. */
  isHeld = false;
  /** One has gone out and has not been answered. */
  isUnderWay = false;
  private underWay: Promise<void> = Promise.resolve();

  /** `base` gives the revision on which an edit is tried. */
  constructor(
    private readonly job: string,
    private readonly base: () => number,
  ) {}

  /** Show what an edit would give; the newest waits while one is under way. */
  try(edit: Edit): void {
    this.waiting = edit;
    this.isHeld = true;
    if (!this.isUnderWay) this.underWay = this.goOn();
  }

  /** Send no more: the hand has let go. */
  drop(): void {
    this.waiting = null;
    this.isHeld = false;
  }

  /**
   * Show the job itself again, once the last one has arrived: nothing stays of what a hand tried. Where another hand
   * tries something by then, its own end will do so.
   */
  async end(): Promise<void> {
    const { last } = this;
    await this.underWay;
    if (last && last === this.last) await api.endTrial(this.job).catch(() => undefined);
  }

  private async goOn(): Promise<void> {
    this.isUnderWay = true;
    while (this.waiting) {
      const edit = this.waiting;
      this.waiting = null;
      this.last += 1;
      try {
        await api.trial(this.job, this.base(), this.last, edit);
      } catch {
        // a trial that cannot be is not shown; letting go says why
      }
    }
    this.isUnderWay = false;
  }
}
