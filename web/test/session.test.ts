/** One open job against a made-up service: what it asks where requests and answers overtake each other. */

import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { api, WINDOW } from "../src/api/client.ts";
import { Session } from "../src/state/session.ts";

const asked: string[] = [];
let head = 1;
let isRefusing = false;
let refusedAs = "input";
let hold: Promise<void> | null = null;
let holdsEdits: Promise<void> | null = null;
const bases: number[] = [];
let stream: Stream;
const opened: Session[] = [];

const TABLES = {
  drawn: { rows: 1, columns: { name: { start: 0, remove: 9, values: ["around"] } } },
  posts: { rows: 1, columns: { id: { start: 0, remove: 9, values: ["P1"] } } },
};

class Stream extends EventTarget {
  static readonly OPEN = 1;
  static readonly CLOSED = 2;
  readyState = 1;
  close(): void {
    this.readyState = Stream.CLOSED;
  }
  say(name: string, data: unknown): void {
    this.dispatchEvent(new MessageEvent(name, { data: JSON.stringify(data) }));
  }
  head(revision: number, window = "beside"): void {
    this.say("head", { revision, window, label: "" });
  }
  refused(revision: number, trial: number | null = null): void {
    const error = { file: "", item: "", sentence: "it cannot be designed", field: [] };
    this.say("refused", { revision, trial, error, kept: trial === null ? { drawn: ["name"] } : null });
  }
  stage(revision: number, pending: string[] = [], trial: number | null = null, elapsed_ms = 1): void {
    const values = pending.length ? { findings: [] } : { findings: [], digest: "d" };
    const stage = pending.length ? "pulls" : "design";
    this.say("stage", { revision, trial, stage, pending, elapsed_ms, tables: TABLES, values });
  }
}

async function answer(path: string, { method, body }: RequestInit): Promise<Response> {
  asked.push(`${method} ${path.replace(/\?.*/, "").replace("/api/jobs/j", "")}`);
  if (path.endsWith("/trial")) await hold;
  if (path.endsWith("/edits")) {
    bases.push((JSON.parse(String(body)) as { base: number }).base);
    if (holdsEdits) await holdsEdits;
    const refused = {
      sentence: "no",
      file: "",
      item: "",
      field: [],
      code: refusedAs,
      head: null,
      kept: null,
    };
    if (isRefusing) return Response.json({ error: refused }, { status: 422 });
    return Response.json({ state: state(), merged: false, merged_with: [] });
  }
  return Response.json(state());
}

let undo: string | null = "an edit";
const state = () => ({ id: "j", head, asked: {}, text: "", files: [], undo, redo: "an edit" });
const settled = () => new Promise((done) => setTimeout(done, 5));
const edit = { kind: "set" };

async function opensNow(): Promise<Session> {
  const session = await Session.open("j");
  opened.push(session);
  return session;
}

/** A session that shows the whole design of the revision that the job is at. */
async function openedAt(revision: number): Promise<Session> {
  head = revision;
  const session = await opensNow();
  stream.dispatchEvent(new Event("open"));
  stream.stage(revision);
  return session;
}

beforeEach(() => {
  asked.length = 0;
  head = 1;
  isRefusing = false;
  refusedAs = "input";
  undo = "an edit";
  hold = null;
  holdsEdits = null;
  bases.length = 0;
  vi.stubGlobal("fetch", answer);
  vi.stubGlobal("document", { hidden: true });
  vi.stubGlobal("window", new EventTarget());
  vi.stubGlobal(
    "EventSource",
    class extends Stream {
      constructor() {
        super();
        stream = this;
      }
    },
  );
});
afterEach(() => {
  for (const session of opened.splice(0)) session.close();
  vi.unstubAllGlobals();
});

test("a page whose stream begins at another revision than its state fetches that again", async () => {
  const session = await opensNow();
  head = 2;
  stream.dispatchEvent(new Event("open"));
  stream.stage(2);
  await expect.poll(() => session.state.head).toBe(2);
  expect(asked).toEqual(["GET ", "GET "]);
});

test("one whose state is that of the stream asks nothing more, nor with a later answer", async () => {
  const session = await opensNow();
  stream.dispatchEvent(new Event("open"));
  stream.stage(1, ["rolls"]);
  stream.stage(2); // its own edit's, before word of that
  await settled();
  expect(session.state.head).toBe(1);
  expect(asked).toEqual(["GET "]);
});

test("an undone revision that another window left before the stream began is shown", async () => {
  head = 3;
  const session = await opensNow();
  head = 2;
  stream.dispatchEvent(new Event("open"));
  stream.stage(2);
  await expect.poll(() => [session.state.head, session.answer.revision]).toEqual([2, 2]);
});

test("what undo leads back to is heard, though word of it comes after its answer", async () => {
  const session = await openedAt(3);
  head = 2;
  const undone = session.undo();
  stream.head(2, WINDOW);
  stream.stage(2, ["rolls"]);
  stream.stage(2);
  expect(session.answer.revision).toBe(3);
  await undone;
  expect([session.state.head, session.answer.revision, session.answer.pending]).toEqual([2, 2, []]);
});

test("so is that no design of it is possible", async () => {
  const session = await openedAt(3);
  head = 2;
  const undone = session.undo();
  stream.refused(2);
  await undone;
  expect([session.state.head, session.refused]).toEqual([2, "it cannot be designed"]);
});

test("a state that comes late is not the last word, nor does it lose the answer to the one that is", async () => {
  const session = await openedAt(3);
  head = 2; // another window goes back twice, and the state between them comes last
  stream.head(2);
  await settled();
  head = 1;
  stream.head(1);
  stream.stage(1);
  await expect.poll(() => session.state.head).toBe(1);
  session.adopt({ ...session.state, head: 2 });
  await expect.poll(() => [session.state.head, session.answer.revision]).toEqual([1, 1]);
});

test("of a job of which no design is possible, nothing of the design before stays", async () => {
  const session = await openedAt(2);
  expect(Object.keys(session.answer.tables)).toEqual(["drawn", "posts"]);
  stream.refused(2);
  expect(session.answer.tables).toEqual({ drawn: { rows: 1, columns: { name: ["around"] } } });
  expect([session.answer.digest, session.answer.revision]).toEqual(["", 2]);
});

test("what is refused names the file that holds it, but for the job's own", async () => {
  const session = await openedAt(2);
  const said = (file: string) => {
    const error = { file, item: "line 2", sentence: "x is no length", field: [] };
    stream.say("refused", { revision: 2, trial: null, error, kept: null });
    return session.refused;
  };
  expect(said("spots.csv")).toBe("spots.csv: line 2: x is no length");
  expect(said("job.toml")).toBe("line 2: x is no length");
});

test("of what a hand tries and cannot be, the design before stays", async () => {
  const session = await openedAt(2);
  stream.refused(2, 1);
  expect(session.refused).toBe("it cannot be designed");
  expect(Object.keys(session.answer.tables)).toEqual(["drawn", "posts"]);
  expect(session.answer.digest).toBe("d");
});

/** Drag to a place and let go while the trial of it is still on its way. */
async function letGoEarly(next = 1): Promise<void> {
  const session = await openedAt(1);
  head = next;
  const arrives = new EventTarget();
  hold = new Promise((done) => {
    arrives.addEventListener("now", () => done());
  });
  session.try(edit);
  void session.edit(edit);
  await settled();
  expect(asked).toEqual(["GET ", "POST /trial", "POST /edits"]);
  arrives.dispatchEvent(new Event("now"));
}

test("what a hand tried and let go where it was ends once the last trial has arrived", async () => {
  await letGoEarly();
  await expect.poll(() => asked.slice(3)).toEqual(["DELETE /trial"]);
});

test("so does what it let go at a place that is kept: undo may have led back to where it was tried", async () => {
  await letGoEarly(2);
  await expect.poll(() => asked.slice(3)).toEqual(["DELETE /trial"]);
});

test("so does what it let go where it may not be", async () => {
  isRefusing = true;
  await letGoEarly();
  await expect.poll(() => asked.slice(3)).toEqual(["DELETE /trial"]);
});

test("what is expected goes out once no newer has come for a moment, and not again as it was", async () => {
  const session = await openedAt(1);
  asked.length = 0;
  for (const value of ["1", "12", "125"]) session.expect({ kind: "set", value });
  await expect.poll(() => asked).toEqual(["POST /expected"]);
  session.expect({ kind: "set", value: "125" });
  await new Promise((done) => setTimeout(done, 100));
  expect(asked).toEqual(["POST /expected"]);
});

test("nothing is expected while a hand holds something", async () => {
  const session = await openedAt(1);
  asked.length = 0;
  session.try({ kind: "held" });
  session.expect({ kind: "other" });
  await new Promise((done) => setTimeout(done, 100));
  expect(asked).toEqual(["POST /trial"]);
  await session.endTry();
  session.expect({ kind: "another" });
  await expect.poll(() => asked.at(-1)).toBe("POST /expected");
});

test("what was expected goes out no more once it is asked, nor without a line, nor of a fence that takes long", async () => {
  const session = await openedAt(1);
  asked.length = 0;
  session.expect(edit);
  await session.edit(edit);
  await new Promise((done) => setTimeout(done, 100));
  expect(asked).toEqual(["POST /edits"]);
  stream.stage(1, ["rolls"], null, 900);
  session.expect({ kind: "other" });
  await new Promise((done) => setTimeout(done, 100));
  stream.stage(1, ["rolls"], null, 40);
  stream.readyState = Stream.CLOSED;
  stream.dispatchEvent(new Event("error"));
  session.expect({ kind: "another" });
  await new Promise((done) => setTimeout(done, 100));
  expect(asked.filter((each) => each.endsWith("expected"))).toEqual([]);
});

const cut = async (): Promise<Response> => {
  throw new TypeError("Failed to fetch");
};
const returns = async (revision: number) => {
  vi.stubGlobal("fetch", answer);
  head = revision;
  const before = stream;
  window.dispatchEvent(new Event("online"));
  expect(stream).not.toBe(before);
  stream.dispatchEvent(new Event("open"));
};

test("a request that nobody answers takes the line away, and another stream gives it back", async () => {
  const session = await openedAt(1);
  vi.stubGlobal("fetch", cut);
  await expect(api.history("j")).rejects.toThrow();
  expect(session.isConnected).toBe(false);
  await returns(2);
  expect(session.isConnected).toBe(true);
  await expect.poll(() => session.state.head).toBe(2);
});

test("a request that was given up says nothing of the line", async () => {
  const session = await openedAt(1);
  vi.stubGlobal("fetch", cut);
  await expect(api.ownPrice("j", 1, AbortSignal.abort())).rejects.toThrow();
  expect(session.isConnected).toBe(true);
});

test("without a network the program is asked: it may be on this machine", async () => {
  const session = await openedAt(1);
  window.dispatchEvent(new Event("offline"));
  await settled();
  expect(session.isConnected).toBe(true);
  vi.stubGlobal("fetch", cut);
  window.dispatchEvent(new Event("offline"));
  await expect.poll(() => session.isConnected).toBe(false);
  await returns(1);
  expect(session.isConnected).toBe(true);
});

test("a stream that is silent for longer than the program ever is has been cut", async () => {
  vi.useFakeTimers();
  try {
    const session = await openedAt(1);
    vi.advanceTimersByTime(30_000);
    stream.say("here", {});
    vi.advanceTimersByTime(30_000);
    expect(session.isConnected).toBe(true);
    const before = stream;
    vi.advanceTimersByTime(15_000);
    expect([session.isConnected, stream === before]).toEqual([false, false]);
  } finally {
    vi.useRealTimers();
  }
});

test("a session that is closed listens no more", async () => {
  const session = await openedAt(1);
  session.close();
  const before = stream;
  window.dispatchEvent(new Event("online"));
  expect(stream).toBe(before);
});

test("what is asked while rows are renumbered goes out on the revision that the hand saw", async () => {
  const session = await openedAt(4);
  let go = () => {};
  holdsEdits = new Promise((done) => {
    go = done;
  });
  const first = session.edit({ kind: "remove", table: "gate", item: 1 });
  const again = session.edit({ kind: "remove", table: "gate", item: 1 }); // a double press
  const other = session.edit({ kind: "set", path: ["gate", 2, "opening"], value: "9 ft" });
  await settled();
  head = 5;
  go();
  await Promise.all([first, again, other]);
  head = 6;
  await session.edit({ kind: "set", path: ["gate", 1, "opening"], value: "10 ft" }); // what it made is not drawn yet
  session.drawn();
  await session.edit({ kind: "set", path: ["gate", 0, "opening"], value: "11 ft" });
  expect(bases).toEqual([4, 4, 4, 4, 6]);
});

test("other edits that follow each other quickly go out each on what the one before it made", async () => {
  const session = await openedAt(4);
  head = 5;
  await Promise.all([session.edit(edit as never), session.edit(edit as never)]);
  expect(bases).toEqual([4, 5]);
});

test("what is asked of a state that came from elsewhere goes out on the one before till that is drawn", async () => {
  const session = await openedAt(4);
  head = 5;
  stream.head(5); // another window took a row out
  await expect.poll(() => session.state.head).toBe(5);
  bases.length = 0;
  expect(session.seen.head).toBe(4); // a row that the hand takes is numbered as it stands there
  await session.edit({ kind: "set", path: ["gate", 1, "opening"], value: "9 ft" });
  session.drawn();
  expect(session.seen.head).toBe(5);
  await session.edit({ kind: "set", path: ["gate", 0, "opening"], value: "10 ft" });
  expect(bases).toEqual([4, 5]);
});

test("what is asked after undo goes out on the revision before it till what undo gave is drawn", async () => {
  const session = await openedAt(5);
  head = 4;
  await session.undo();
  await session.edit({ kind: "set", path: ["gate", 0, "opening"], value: "9 ft" });
  session.drawn();
  await session.edit({ kind: "set", path: ["gate", 0, "opening"], value: "10 ft" });
  expect(bases).toEqual([5, 4]);
});

test("undo stops at the first revision however often it is pressed", async () => {
  const session = await openedAt(2);
  undo = null;
  head = 1;
  asked.length = 0;
  await Promise.all([session.undo(), session.undo(), session.undo()]);
  expect([asked, session.state.head]).toEqual([["POST /undo"], 1]);
});

test("a clash is told by its own sentence, and no window is named that said nothing", async () => {
  const session = await openedAt(1);
  const told: unknown[] = [];
  session.addEventListener("told", (event) => told.push((event as CustomEvent).detail));
  isRefusing = true;
  refusedAs = "clash";
  await session.edit(edit);
  await session.edit(edit, true);
  expect(told).toEqual([{ sentence: "no" }]);
});
