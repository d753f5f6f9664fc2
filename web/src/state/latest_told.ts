/** What the stream told last of the job itself: it may be of a revision that the page has no word of yet. */

export class LatestTold {
  private revision = 0;
  private waiting: (() => void)[] = [];

  /** Hear an answer to a revision now; or, where the page may not show it yet, once it comes to that revision. */
  take(revision: number, isHidden: boolean, hear: () => void): void {
    if (revision !== this.revision) this.waiting = [];
    this.revision = revision;
    if (isHidden) this.waiting.push(hear);
    else hear();
  }

  /** The page has come to a revision: hear what was told of it. */
  comeTo(revision: number): void {
    if (revision !== this.revision) return;
    for (const hear of this.waiting.splice(0)) hear();
  }
}
