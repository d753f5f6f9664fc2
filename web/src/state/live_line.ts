/** The line to the program: events of one job as they are told, and whether anybody is there. */

import { api, requests } from "../api/client.ts";
import type { TableChange } from "./tables.ts";

export interface StageSaid {
  revision: number;
  trial: number | null;
  stage: string;
  pending: string[];
  elapsed_ms: number;
  tables: Record<string, TableChange>;
  values: Record<string, unknown>;
}

export interface RefusedSaid {
  revision: number;
  trial: number | null;
  error: { file: string; item: string; sentence: string; field: (string | number)[] };
  /** Columns by table that are of the job; null: what is shown stays, of the design before. */
  kept: Record<string, string[]> | null;
}

export interface HeadSaid {
  revision: number;
  window: string;
  label: string;
}

/** Who listens: each is called in the order in which things were told. */
export interface Listener {
  /** A stream has begun: it sends its tables whole. */
  began: () => void;
  lost: () => void;
  stage: (said: StageSaid) => void;
  refused: (said: RefusedSaid) => void;
  head: (said: HeadSaid) => void;
}

/** How long a refused stream is left alone. */
const AGAIN_MS = 3000;

/** A stream is never silent for so long: the program says every 15 s that it is still there. */
const SILENT_MS = 40_000;

/** Letters of an answer whose reading is a task by itself: what it draws is another. */
const LARGE = 200_000;

export class LiveLine {
  private stream: EventSource | null = null;
  private isClosed = false;
  private waiting: ReturnType<typeof setTimeout> | undefined;
  private silence: ReturnType<typeof setTimeout> | undefined;
  /** Answers that have been read and not yet taken. */
  private read: StageSaid[] = [];

  constructor(
    private readonly job: string,
    private readonly to: Listener,
  ) {
    requests.addEventListener("missed", this.missed);
    window.addEventListener("offline", this.asks);
    window.addEventListener("online", this.returned);
    this.open();
  }

  close(): void {
    this.isClosed = true;
    requests.removeEventListener("missed", this.missed);
    window.removeEventListener("offline", this.asks);
    window.removeEventListener("online", this.returned);
    clearTimeout(this.waiting);
    clearTimeout(this.silence);
    this.stream?.close();
  }

  private open(): void {
    clearTimeout(this.waiting);
    this.stream?.close();
    const stream = new EventSource(api.liveAddress(this.job));
    this.stream = stream;
    this.heard();
    stream.addEventListener("open", () => {
      this.take();
      this.heard();
      this.to.began();
    });
    stream.addEventListener("error", () => {
      this.to.lost();
      if (stream.readyState === EventSource.CLOSED) this.openLater();
    });
    stream.addEventListener("here", () => this.heard());
    stream.addEventListener("stage", ({ data }: MessageEvent<string>) => {
      this.heard();
      this.take();
      this.read.push(JSON.parse(data) as StageSaid);
      if (data.length < LARGE) this.take();
      else setTimeout(() => this.take());
    });
    stream.addEventListener("refused", ({ data }: MessageEvent<string>) => {
      this.heard();
      this.take();
      this.to.refused(JSON.parse(data) as RefusedSaid);
    });
    stream.addEventListener("head", ({ data }: MessageEvent<string>) => {
      this.heard();
      this.take();
      this.to.head(JSON.parse(data) as HeadSaid);
    });
  }

  /** A stream that was refused, not merely cut, does not begin again by itself. */
  private openLater(): void {
    clearTimeout(this.waiting);
    this.waiting = setTimeout(() => this.open(), AGAIN_MS);
  }

  /** A browser tells late, or never, that a line without an end has been cut: it is given up, and another is begun. */
  private giveUp(): void {
    this.stream?.close();
    this.to.lost();
    this.openLater();
  }

  private heard(): void {
    clearTimeout(this.silence);
    this.silence = setTimeout(() => this.giveUp(), SILENT_MS);
  }

  /** A request was not answered: the stream, if it still seems to stand, stands no more. */
  private missed = (): void => {
    if (this.stream?.readyState === EventSource.OPEN) this.giveUp();
  };

  /** Without a network a program on this very machine is still there: it is asked, and the answer, or none, decides. */
  private asks = (): void => {
    void api.about().catch(() => undefined);
  };

  /** The network is back: a line that is lost need not wait its time. */
  private returned = (): void => {
    if (this.stream?.readyState !== EventSource.OPEN) this.open();
  };

  /** Take what has been read, in the order in which it was told. */
  private take(): void {
    for (const said of this.read.splice(0)) if (!this.isClosed) this.to.stage(said);
  }
}
