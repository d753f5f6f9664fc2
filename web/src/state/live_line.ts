/** The line to the program: events of one job as they are told, and whether anybody is there. */

import { api } from "../api/client.ts";
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
  error: { item: string; sentence: string; field: (string | number)[] };
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

/** Letters of an answer whose reading is a task by itself: what it draws is another. */
const LARGE = 200_000;

export class LiveLine {
  private stream: EventSource | null = null;
  private isClosed = false;
  /** Answers that have been read and not yet taken. */
  private read: StageSaid[] = [];

  constructor(
    private readonly job: string,
    private readonly to: Listener,
  ) {
    this.open();
  }

  close(): void {
    this.isClosed = true;
    this.stream?.close();
  }

  private open(): void {
    const stream = new EventSource(api.liveAddress(this.job));
    this.stream = stream;
    stream.addEventListener("open", () => {
      this.take();
      this.to.began();
    });
    stream.addEventListener("error", () => {
      this.to.lost();
      if (stream.readyState === EventSource.CLOSED) this.openLater();
    });
    stream.addEventListener("stage", ({ data }: MessageEvent<string>) => {
      this.take();
      this.read.push(JSON.parse(data) as StageSaid);
      if (data.length < LARGE) this.take();
      else setTimeout(() => this.take());
    });
    stream.addEventListener("refused", ({ data }: MessageEvent<string>) => {
      this.take();
      this.to.refused(JSON.parse(data) as RefusedSaid);
    });
    stream.addEventListener("head", ({ data }: MessageEvent<string>) => {
      this.take();
      this.to.head(JSON.parse(data) as HeadSaid);
    });
  }

  /** A stream that was refused, not merely cut, does not begin again by itself. */
  private openLater(): void {
    setTimeout(() => {
      if (!this.isClosed) this.open();
    }, AGAIN_MS);
  }

  /** Take what has been read, in the order in which it was told. */
  private take(): void {
    for (const said of this.read.splice(0)) if (!this.isClosed) this.to.stage(said);
  }
}
