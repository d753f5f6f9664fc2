/** The list of jobs: each with its picture; new, copy, import, delete with undo. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, query, state } from "lit/decorators.js";
import { api, type JobSummary } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { refusedWhole, type Told, toldOf } from "../panels/refused.ts";
import { Dropping } from "../plan/dropping.ts";
import { languageInUse, say } from "../texts/say.ts";
import "./deleted_jobs.ts";

@customElement("job-list")
export class JobList extends LitElement {
  static override styles = [
    controls,
    css`
      :host { display: block; padding: 1rem; max-width: 80rem; margin: 0 auto; }
      header { display: flex; flex-wrap: wrap; gap: 0.6rem; align-items: end; margin-bottom: 1rem; }
      h1 { margin: 0; font-size: 1.4rem; flex: 1 1 12rem; }
      form { display: flex; flex-wrap: wrap; gap: 0.5rem; align-items: end; }
      ul { list-style: none; margin: 0; padding: 0; display: grid; gap: 1rem; grid-template-columns: repeat(auto-fill, minmax(min(17rem, 100%), 1fr)); }
      li { border: 1px solid var(--line); border-radius: 6px; overflow: hidden; display: grid; grid-template-rows: auto 1fr auto; background: var(--raised); }
      img { width: 100%; aspect-ratio: 16 / 10; object-fit: contain; background: #fff; display: block; }
      .open { display: grid; gap: 0.1rem; padding: 0.6rem 0.8rem; color: inherit; text-decoration: none; overflow-wrap: anywhere; min-height: 2.75rem; }
      .open strong { font-size: 1.05rem; }
      .acts { display: flex; gap: 0.4rem; padding: 0.4rem 0.8rem 0.8rem; }
      .drop { margin: 0 0 1rem; padding: 0.8rem; border: 2px dashed var(--accent); background: var(--raised); }
      .undo { display: flex; gap: 0.8rem; align-items: center; padding: 0.5rem 0.8rem; border-left: 5px solid var(--accent); background: var(--raised); margin-bottom: 1rem; }
    `,
  ];

  @state() private jobs: JobSummary[] | null = null;
  @state() private refused: Told | null = null;
  @state() private removed: JobSummary | null = null;
  @state() private isBusy = false;
  private readonly dropping = new Dropping(this, (files) => this.import(files));
  @query("#name") private nameField!: HTMLInputElement;
  @query("#sheets") private sheetsField!: HTMLSelectElement;

  override connectedCallback(): void {
    super.connectedCallback();
    void this.load();
  }

  /** Read the list; a new job need not wait for it. */
  private async load(): Promise<void> {
    await this.telling(async () => {
      this.jobs = await api.jobs();
    });
  }

  private async doing(act: () => Promise<void>): Promise<void> {
    this.isBusy = true;
    await this.telling(act);
    this.isBusy = false;
  }

  /** Do something, and say why where it cannot be. */
  private async telling(act: () => Promise<void>): Promise<void> {
    this.refused = null;
    try {
      await act();
    } catch (error) {
      this.refused = toldOf(error);
    }
  }

  private make = (event: Event): void => {
    event.preventDefault();
    void this.doing(async () => {
      const made = await api.newJob(
        this.nameField.value.trim() || say("new_job_name"),
        this.sheetsField.value,
        "empty",
      );
      location.hash = `#/jobs/${made.id}`;
    });
  };

  private take(event: Event): void {
    const field = event.target as HTMLInputElement;
    const files = [...(field.files ?? [])];
    field.value = "";
    this.import(files);
  }

  /** Make a job of files, chosen or let fall. */
  private import(files: readonly File[]): void {
    if (files.length === 0) return;
    void this.doing(async () => {
      const made = await api.importJob(files);
      location.hash = `#/jobs/${made.id}`;
    });
  }

  private removeJob(job: JobSummary): void {
    void this.doing(async () => {
      await api.removeJob(job.id);
      this.removed = job;
      this.jobs = await api.jobs();
    });
  }

  private putBack(): void {
    const job = this.removed;
    if (!job) return;
    void this.doing(async () => {
      await api.restoreJob(job.id);
      this.removed = null;
      this.jobs = await api.jobs();
    });
  }

  override render(): TemplateResult {
    return html`
      <header>
        <h1>${say("jobs")}</h1>
        <form @submit=${this.make}>
          <label for="name"><span>${say("name")}</span><input id="name" maxlength="300" placeholder=${say("new_job_name")} /></label>
          <label for="sheets"><span>${say("units")}</span><select id="sheets"><option value="us">${say("units_us")}</option><option value="metric">${say("units_metric")}</option></select></label>
          <button class="main" ?disabled=${this.isBusy}>${say("new_job")}</button>
        </form>
        <label class="button" for="files"><span>${say("import")}</span><input id="files" class="only-heard" type="file" multiple @change=${this.take} /></label>
      </header>
      ${this.dropping.isOver ? html`<p class="drop" role="status">${say("drop_to_import")}</p>` : nothing}
      ${this.refused ? refusedWhole(this.refused) : nothing}
      ${this.removed ? html`<div class="undo" role="status"><span>${say("job_removed", { name: this.removed.name })}</span><button @click=${() => this.putBack()}>${say("put_back")}</button></div>` : nothing}
      ${this.jobs === null && !this.refused ? html`<p role="status">${say("loading")}</p>` : nothing}
      ${this.jobs?.length === 0 ? html`<p>${say("no_jobs")}</p>` : nothing}
      <ul>${(this.jobs ?? []).filter((job) => job.deleted_ms === null).map((job) => this.one(job))}</ul>
      <deleted-jobs .last=${this.removed} @restored=${() => void this.load()}></deleted-jobs>`;
  }

  private one(job: JobSummary): TemplateResult {
    const when = new Date(job.changed_ms).toLocaleString(languageInUse(), {
      dateStyle: "medium",
      timeStyle: "short",
    });
    return html`<li>
      <img src=${job.picture} alt="" loading="lazy" />
      <a class="open" href=${`#/jobs/${job.id}`}><strong>${job.name}</strong><small>${when}</small></a>
      <div class="acts">
        <button @click=${() =>
          void this.doing(async () => {
            await api.copyJob(job.id);
            this.jobs = await api.jobs();
          })} aria-label=${`${say("copy")}: ${job.name}`}>${say("copy")}</button>
        <button @click=${() => this.removeJob(job)} aria-label=${`${say("remove")}: ${job.name}`}>${say("remove")}</button>
      </div></li>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "job-list": JobList;
  }
}
