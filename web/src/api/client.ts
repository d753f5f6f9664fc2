/** Calls of the service: typed answers, and every refusal as one shape. */

import type { components } from "./schema.ts";

type Schemas = components["schemas"];
export type About = Schemas["About"];
export type JobSummary = Schemas["JobSummary"];
export type JobState = Schemas["JobState"];
export type RevisionInfo = Schemas["RevisionInfo"];
export type ChangeInfo = Schemas["ChangeInfo"];
export type EditAnswer = Schemas["EditAnswer"];
export type ErrorText = Schemas["ErrorText"];
export type OutputInfo = Schemas["OutputInfo"];
export type OutputsAnswer = Schemas["OutputsAnswer"];
export type PageInfo = Schemas["PageInfo"];
export type PagesAnswer = Schemas["PagesAnswer"];
export type WhyAnswer = Schemas["WhyAnswer"];
export type CatalogueAnswer = Schemas["CatalogueAnswer"];
export type FilesAnswer = Schemas["FilesAnswer"];
export type PricesAnswer = Schemas["PricesAnswer"];
export type NeededPrice = Schemas["NeededPriceInfo"];
export type TerrainAnswer = Schemas["TerrainAnswer"];
export type BackgroundAnswer = Schemas["BackgroundAnswer"];

/** An edit as the service takes it: its kind, and what it needs. */
export interface Edit {
  kind: string;
  [key: string]: unknown;
}

/** A call that was refused, or could not be made. */
export class Refusal extends Error {
  constructor(readonly told: ErrorText) {
    super(told.sentence);
  }

  /** The service cannot be reached; what was asked is not lost, it was never begun. */
  get isLost(): boolean {
    return this.told.code === "lost";
  }
}

const LOST: ErrorText = { sentence: "", file: "", item: "", field: [], code: "lost", head: null, kept: null };

/** What the program calls the job's own file, which goes without saying on the page. */
export const OWN_FILE = "job.toml";

/** What an error says with the file and the item that it is about before it, as the command line prints it. */
export function withItem({ file, item, sentence }: Pick<ErrorText, "file" | "item" | "sentence">): string {
  return [file === OWN_FILE ? "" : file, item, sentence].filter(Boolean).join(": ");
}

/** A name for this window, so that others can tell who made an edit. */
export const WINDOW = Math.random().toString(36).slice(2, 10);

/** Tells `missed` for every request that nobody answered. */
export const requests = new EventTarget();

async function ask(method: string, path: string, body?: unknown, signal?: AbortSignal): Promise<Response> {
  const isForm = body instanceof FormData;
  let response: Response;
  try {
    response = await fetch(`/api${path}`, {
      method,
      ...(body === undefined ? {} : { body: isForm ? body : JSON.stringify(body) }),
      headers: body === undefined || isForm ? {} : { "content-type": "application/json" },
      credentials: "same-origin",
      ...(signal ? { signal } : {}),
    });
  } catch {
    if (!signal?.aborted) requests.dispatchEvent(new Event("missed"));
    throw new Refusal(LOST);
  }
  if (!response.ok) throw new Refusal(await refusalOf(response));
  return response;
}

async function call<Answer>(
  method: string,
  path: string,
  body?: unknown,
  signal?: AbortSignal,
): Promise<Answer> {
  return (await (await ask(method, path, body, signal)).json()) as Answer;
}

async function refusalOf(response: Response): Promise<ErrorText> {
  try {
    return ((await response.json()) as { error: ErrorText }).error;
  } catch {
    return { ...LOST, sentence: `${response.status} ${response.statusText}`, code: "fault" };
  }
}

const part = encodeURIComponent;

export const api = {
  about: () => call<About>("GET", ""),
  catalogue: (id: string) => call<CatalogueAnswer>("GET", `/jobs/${part(id)}/catalogue`),
  jobSchema: () => call<Record<string, unknown>>("GET", "/job-schema"),
  jobs: () => call<JobSummary[]>("GET", "/jobs"),
  deletedJobs: () => call<JobSummary[]>("GET", "/jobs?deleted=true"),
  newJob: (name: string, sheets: string, start: string) =>
    call<JobState>("POST", "/jobs", { name, sheets, start, window: WINDOW }),
  copyJob: (id: string) => call<JobState>("POST", `/jobs/${part(id)}/copy`, { name: "", window: WINDOW }),
  removeJob: (id: string) => call<unknown>("DELETE", `/jobs/${part(id)}`),
  restoreJob: (id: string) => call<unknown>("POST", `/jobs/${part(id)}/restore`),
  importJob: (files: readonly File[]) => call<JobState>("POST", "/jobs/import", formOf(files)),
  job: (id: string) => call<JobState>("GET", `/jobs/${part(id)}`),
  edit: (id: string, base: number, edit: Edit) =>
    call<EditAnswer>("POST", `/jobs/${part(id)}/edits`, { base, window: WINDOW, edit }),
  trial: (id: string, base: number, trial: number, edit: Edit) =>
    call<unknown>("POST", `/jobs/${part(id)}/trial`, { base, window: WINDOW, trial, edit }),
  expected: (id: string, base: number, edit: Edit) =>
    call<unknown>("POST", `/jobs/${part(id)}/expected`, { base, window: WINDOW, edit }),
  endTrial: (id: string) => call<unknown>("DELETE", `/jobs/${part(id)}/trial?window=${WINDOW}`),
  undo: (id: string, base: number) =>
    call<JobState>("POST", `/jobs/${part(id)}/undo`, { base, window: WINDOW }),
  redo: (id: string, base: number) =>
    call<JobState>("POST", `/jobs/${part(id)}/redo`, { base, window: WINDOW }),
  history: (id: string) => call<RevisionInfo[]>("GET", `/jobs/${part(id)}/history`),
  nameRevision: (id: string, number: number, name: string) =>
    call<unknown>("PUT", `/jobs/${part(id)}/history/${number}/name`, { name }),
  changes: (id: string, from: number, to: number) =>
    call<ChangeInfo[]>("GET", `/jobs/${part(id)}/changes?before=${from}&after=${to}`),
  why: (id: string, thing: string) => call<WhyAnswer>("GET", `/jobs/${part(id)}/why/${part(thing)}`),
  part: <Answer>(id: string, name: string) => call<Answer>("GET", `/jobs/${part(id)}/parts/${part(name)}`),
  partAt: <Answer>(id: string, name: string, revision: number, signal?: AbortSignal) =>
    call<Answer>("GET", `/jobs/${part(id)}/parts/${part(name)}?at=${revision}`, undefined, signal),
  /** The price of a revision without its alternatives, which take longer. */
  ownPrice: <Answer>(id: string, revision: number, signal?: AbortSignal) =>
    call<Answer>("GET", `/jobs/${part(id)}/parts/price?at=${revision}&alone=true`, undefined, signal),
  prices: (id: string, revision: number) =>
    call<PricesAnswer>("GET", `/jobs/${part(id)}/prices?at=${revision}`),
  givePriceBook: (id: string, base: number, files: readonly File[]) =>
    call<EditAnswer>("POST", `/jobs/${part(id)}/price-book?base=${base}&window=${WINDOW}`, formOf(files)),
  /** A price book to be filled in. */
  startedBookAddress: (id: string, name: string, revision: number) =>
    `/api/jobs/${part(id)}/price-book/${name}?at=${revision}`,
  /** A file of the job, as it was given. */
  fileAddress: (id: string, path: string) =>
    `/api/jobs/${part(id)}/files/${path.split("/").map(part).join("/")}`,
  returnTo: (id: string, base: number, number: number) =>
    call<JobState>("POST", `/jobs/${part(id)}/history/${number}/return`, { base, window: WINDOW }),
  outputs: (id: string) => call<OutputsAnswer>("GET", `/jobs/${part(id)}/outputs`),
  pages: (id: string, name: string, revision: number) =>
    call<PagesAnswer>("GET", `/jobs/${part(id)}/outputs/${part(name)}/pages?at=${revision}`),
  giveFiles: (id: string, base: number, files: readonly File[]) =>
    call<FilesAnswer>("POST", `/jobs/${part(id)}/files?base=${base}&window=${WINDOW}`, formOf(files)),
  lookAtFiles: (id: string) => call<FilesAnswer["given"]>("GET", `/jobs/${part(id)}/files`),
  background: (id: string, path: string) =>
    call<BackgroundAnswer>("GET", `/jobs/${part(id)}/backgrounds/${path.split("/").map(part).join("/")}`),
  terrain: (id: string) => call<TerrainAnswer>("GET", `/jobs/${part(id)}/terrain`),
  outputAddress: (id: string, name: string, revision?: number) =>
    `/api/jobs/${part(id)}/outputs/${part(name)}${revision === undefined ? "" : `?at=${revision}`}`,
  drawing: async (id: string, name: string, revision: number) =>
    (await ask("GET", `/jobs/${part(id)}/outputs/${part(name)}?at=${revision}&show=true`)).text(),
  /** A drawing to be shown rather than kept, of one revision. */
  lookAddress: (id: string, name: string, revision: number) =>
    `/api/jobs/${part(id)}/outputs/${part(name)}?at=${revision}&show=true`,
  archiveAddress: (id: string) => `/api/jobs/${part(id)}/archive.zip`,
  liveAddress: (id: string) => `/api/jobs/${part(id)}/live?window=${WINDOW}`,
};

function formOf(files: readonly File[]): FormData {
  const form = new FormData();
  for (const file of files) form.append("files", file, file.name);
  return form;
}
