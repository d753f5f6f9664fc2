/** Files dropped anywhere on the page: taken by what is shown, and never opened by the browser in the page's place. */

import type { ReactiveController, ReactiveControllerHost } from "lit";

/** Who takes files on this page: of several, the newest that is shown. */
const takers: Dropping[] = [];

function hasFiles(event: DragEvent): boolean {
  return event.dataTransfer?.types.includes("Files") ?? false;
}

/** Keep the browser from opening files let fall where nothing takes them. */
export function keepDropsHere(): void {
  const keep = (event: DragEvent) => {
    if (hasFiles(event)) event.preventDefault();
  };
  window.addEventListener("dragover", keep);
  window.addEventListener("drop", keep);
}

/** Calls `dropped` with the files; `isOver` while some are held over the page. */
export class Dropping implements ReactiveController {
  isOver = false;

  constructor(
    private readonly host: ReactiveControllerHost,
    private readonly dropped: (files: readonly File[]) => void,
  ) {
    host.addController(this);
  }

  hostConnected(): void {
    takers.push(this);
    window.addEventListener("dragover", this.over);
    window.addEventListener("dragleave", this.left);
    window.addEventListener("drop", this.let);
  }

  hostDisconnected(): void {
    takers.splice(takers.indexOf(this), 1);
    this.isOver = false;
    window.removeEventListener("dragover", this.over);
    window.removeEventListener("dragleave", this.left);
    window.removeEventListener("drop", this.let);
  }

  private get isTaker(): boolean {
    return takers.at(-1) === this;
  }

  private over = (event: DragEvent): void => {
    if (hasFiles(event)) this.setOver(this.isTaker);
  };

  private left = (event: DragEvent): void => {
    if (event.relatedTarget === null) this.setOver(false);
  };

  private let = (event: DragEvent): void => {
    this.setOver(false);
    const files = [...(event.dataTransfer?.files ?? [])];
    if (files.length > 0 && this.isTaker) this.dropped(files);
  };

  private setOver(isOver: boolean): void {
    if (this.isOver === isOver) return;
    this.isOver = isOver;
    this.host.requestUpdate();
  }
}
