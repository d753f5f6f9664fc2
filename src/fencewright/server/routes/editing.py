"""Edits of a job, and its history: each accepted edit is a revision."""

from fastapi import APIRouter

from fencewright.server.live_runs import Question
from fencewright.server.models import (
    ChangeInfo,
    EditAnswer,
    EditAsked,
    ExpectAnswer,
    ExpectAsked,
    JobState,
    MoveAsked,
    NameAsked,
    RevisionInfo,
    RevisionNumber,
    TrialAnswer,
    TrialAsked,
)
from fencewright.server.routes.needs import ERRORS, JobId, Served
from fencewright.server.service import edit_answer, history_infos, job_state, revision_info

router = APIRouter(prefix="/api/jobs/{id}", tags=["edits"], responses=ERRORS)


@router.post("/edits", operation_id="edit")
def edit(service: Served, id: JobId, asked: EditAsked) -> EditAnswer:  # noqa: A002
    """Make an edit on a revision; if another window has changed the job since, the two are merged or told."""
    return edit_answer(service, service.edit(id, asked.base, asked.window, asked.edit))


@router.post("/trial", operation_id="tryEdit", status_code=202)
def try_edit(service: Served, id: JobId, asked: TrialAsked) -> TrialAnswer:  # noqa: A002
    """Show in one window's live answer what an edit would do; it is not kept."""
    state = service.store.state(id, asked.base)
    made = service.apply(state, asked.edit)
    folder = str(service.folder(state))
    service.board.try_out(Question(id, asked.base, made.text, folder, asked.trial, asked.window, made.asked))
    return TrialAnswer(trial=asked.trial)


@router.delete("/trial", operation_id="endTrial")
def end_trial(service: Served, id: JobId, window: str) -> TrialAnswer:  # noqa: A002
    """Show the window the job itself again."""
    service.board.end_trial(id, window)
    return TrialAnswer(trial=0)


@router.post("/expected", operation_id="expectEdit", status_code=202)
def expect_edit(service: Served, id: JobId, asked: ExpectAsked) -> ExpectAnswer:  # noqa: A002
    """Design ahead what an edit would give that will probably come; nobody is told, and nothing is kept."""
    return ExpectAnswer(begun=service.expect(id, asked.base, asked.window, asked.edit))


@router.post("/undo", operation_id="undo")
def undo(service: Served, id: JobId, asked: MoveAsked) -> JobState:  # noqa: A002
    """Go back one revision."""
    state = service.move(id, lambda: service.store.undo(id, asked.base), asked.window, "undo")
    return job_state(service, state)


@router.post("/redo", operation_id="redo")
def redo(service: Served, id: JobId, asked: MoveAsked) -> JobState:  # noqa: A002
    """Go forward again to where the last undo came from."""
    state = service.move(id, lambda: service.store.redo(id, asked.base), asked.window, "redo")
    return job_state(service, state)


@router.get("/history", operation_id="getHistory")
def get_history(service: Served, id: JobId) -> list[RevisionInfo]:  # noqa: A002
    """List every revision, the first one first."""
    return history_infos(service.store.history(id), service.store.state(id).job.head)


@router.put("/history/{number}/name", operation_id="nameRevision")
def name_revision(service: Served, id: JobId, number: RevisionNumber, asked: NameAsked) -> RevisionInfo:  # noqa: A002
    """Give a revision a name, or take it away."""
    named = service.store.name_revision(id, number, asked.name)
    return revision_info(named, service.store.state(id).job.head, {number})


@router.post("/history/{number}/return", operation_id="returnTo")
def return_to(service: Served, id: JobId, number: RevisionNumber, asked: MoveAsked) -> JobState:  # noqa: A002
    """Bring an earlier revision back, as a new one that can be undone."""
    state = service.move(
        id, lambda: service.store.return_to(id, asked.base, number, window=asked.window), asked.window
    )
    return job_state(service, state)


@router.get("/changes", operation_id="getChanges")
def get_changes(
    service: Served,
    id: JobId,  # noqa: A002
    before: RevisionNumber,
    after: RevisionNumber,
) -> list[ChangeInfo]:
    """List what differs between two revisions, by item and key."""
    found = service.store.changes(id, before, after)
    return [
        ChangeInfo(
            table=one.table, row=one.row, new_row=one.new_row, item=one.item, key=one.key,
            before=one.before, after=one.after,
        )
        for one in found
    ]  # fmt: skip
