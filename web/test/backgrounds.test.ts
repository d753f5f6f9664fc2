import { beforeEach, describe, expect, it, vi } from "vitest";
import type { BackgroundAnswer, JobState } from "../src/api/client.ts";
import { api } from "../src/api/client.ts";
import { Backgrounds, TERRAIN } from "../src/state/backgrounds.ts";

const kept = new Map<string, string>();
vi.stubGlobal("localStorage", {
  getItem: (key: string) => kept.get(key) ?? null,
  setItem: (key: string, value: string) => void kept.set(key, value),
});

const asked = vi.spyOn(api, "background");

function job(paths: readonly string[], site: Record<string, unknown> = {}): JobState {
  const files = paths.map((path) => ({ path, digest: path }));
  return { files, asked: { site } } as unknown as JobState;
}

function answer(path: string): BackgroundAnswer {
  return { path, kind: "picture", bounds_m: [0, 0, 1, 1] } as unknown as BackgroundAnswer;
}

describe("backgrounds", () => {
  beforeEach(() => {
    kept.clear();
    asked.mockReset();
    asked.mockImplementation(async (_, path) => answer(path));
  });

  it("are kept for their job, and for no other", async () => {
    const first = new Backgrounds("a");
    first.follow(job(["photo.tif"]));
    await first.show("photo.tif", true);
    first.setOpacity("photo.tif", 0.4);
    expect(new Backgrounds("a").choice("photo.tif")).toEqual({ isShown: true, opacity: 0.4 });
    expect(new Backgrounds("b").choice("photo.tif").isShown).toBe(false);
    expect(new Backgrounds("b").choice(TERRAIN).isShown).toBe(true);
  });

  it("take nothing from a store that holds something else", () => {
    for (const text of ["no JSON", "null", '{"a.tif": 3}', '{"a.tif": {"isShown": 1, "opacity": 7}}']) {
      kept.set("fencewright-backgrounds-a", text);
      expect(new Backgrounds("a").choice("a.tif")).toEqual({ isShown: false, opacity: 0.85 });
    }
  });

  it("are no price book of the job, though it is a sheet", () => {
    const one = new Backgrounds("a");
    const held = job(["trees.csv", "prices.csv"]);
    one.follow({ ...held, asked: { price: { book: "prices.csv" } } } as unknown as JobState);
    expect(one.paths).toEqual(["trees.csv"]);
  });

  it("are asked for again only where the plane or the files change", async () => {
    const one = new Backgrounds("a");
    one.follow(job(["photo.tif", "line.gpx", "photo.tfw"]));
    expect(one.paths).toEqual(["photo.tif", "line.gpx"]);
    await one.show("photo.tif", true);
    expect(asked).toHaveBeenCalledTimes(1);
    one.follow(job(["photo.tif", "line.gpx", "photo.tfw"], { soil: "sand" }));
    expect(asked).toHaveBeenCalledTimes(1);
    one.follow(job(["photo.tif", "line.gpx", "photo.tfw"], { crs: "EPSG:26916" }));
    expect(asked).toHaveBeenCalledTimes(2);
    one.follow(job(["line.gpx"]));
    expect([...one.answers.keys()]).toEqual([]);
  });

  it("an answer for an earlier plane is dropped", async () => {
    const waiting: (() => void)[] = [];
    asked.mockImplementation(
      (_, path) =>
        new Promise((done) => waiting.push(() => done({ ...answer(path), cell_m: waiting.length }))),
    );
    const one = new Backgrounds("a");
    one.follow(job(["photo.tif"]));
    const shown = one.show("photo.tif", true);
    one.follow(job(["photo.tif"], { crs: "EPSG:26916" }));
    waiting[0]?.();
    await shown;
    expect(one.answers.size).toBe(0);
    waiting[1]?.();
    await vi.waitFor(() => expect(one.answers.size).toBe(1));
  });
});
