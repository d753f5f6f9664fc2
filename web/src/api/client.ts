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
export type WhyAnswer = Schemas["WhyAnswer"];
export type CatalogueAnswer = Schemas["CatalogueAnswer"];
export type FilesAnswer = Schemas["FilesAnswer"];
export type TerrainAnswer = Schemas["TerrainAnswer"];

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

/** A name for this window, so that others can tell who made an edit. */
export const WINDOW = Math.random().toString(36).slice(2, 10);

async function call<Answer>(method: string, path: string, body?: unknown): Promise<Answer> {
  const isForm = body instanceof FormData;
  let response: Response;
  try {
    response = await fetch(`/api${path}`, {
      method,
      ...(body === undefined ? {} : { body: isForm ? body : JSON.stringify(body) }),
      headers: body === undefined || isForm ? {} : { "content-type": "application/json" },
      credentials: "same-origin",
    });
  } catch {
    throw new Refusal(LOST);
  }
  if (!response.ok) throw new Refusal(await refusalOf(response));
  return (await response.json()) as Answer;
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
  returnTo: (id: string, base: number, number: number) =>
    call<JobState>("POST", `/jobs/${part(id)}/history/${number}/return`, { base, window: WINDOW }),
  outputs: (id: string) => call<OutputInfo[]>("GET", `/jobs/${part(id)}/outputs`),
  giveFiles: (id: string, base: number, files: readonly File[]) =>
    call<FilesAnswer>("POST", `/jobs/${part(id)}/files?base=${base}&window=${WINDOW}`, formOf(files)),
  terrain: (id: string) => call<TerrainAnswer>("GET", `/jobs/${part(id)}/terrain`),
  outputAddress: (id: string, name: string) => `/api/jobs/${part(id)}/outputs/${part(name)}`,
  /** A drawing or paper to be shown rather than kept, of one revision. */
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
