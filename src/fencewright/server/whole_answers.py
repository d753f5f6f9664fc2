"""What may be asked of a whole design: why of a number, its price, its programme, every file of it."""

from collections.abc import Callable, Mapping
from pathlib import Path
from threading import Lock
from typing import Any, TypeVar, cast

from fencewright.desk.price_books import needed_record, starter_book
from fencewright.desk.price_writing import price_record
from fencewright.desk.pricing import own_price_of, priced_alone, with_alternatives
from fencewright.desk.programme_writing import programme_outputs
from fencewright.desk.running import design
from fencewright.desk.scheduling import programme
from fencewright.desk.whole import Whole, put_together, whole_set
from fencewright.desk.why import explain_any
from fencewright.exchange.design_json import design_json
from fencewright.exchange.programme_json import programme_json
from fencewright.findings import InputError
from fencewright.job.record import Job
from fencewright.pipeline.record import Design
from fencewright.pipeline.why_price import Priced
from fencewright.pipeline.why_record import explanation_record
from fencewright.price.needed import needed_prices
from fencewright.tables.price import Price
from fencewright.tables.programme import Programme

Part = TypeVar("Part")


class KeptWhole:
    """What follows from one state of a job: each part is made once, when it is first asked for.

    Parameters
    ----------
    read : callable
        Gives the job.
    folder : Path
        Where the job's files lie.
    computing : Lock
        Held while a part is made, so that the ground is read by one thread at a time.
    """

    def __init__(self, read: Callable[[], Job], folder: Path, computing: Lock) -> None:
        self._read, self.folder, self._computing = read, folder, computing
        self._made: dict[str, Any] = {}

    def _once(self, part: str, make: Callable[[], Part]) -> Part:
        if part not in self._made:
            with self._computing:
                if part not in self._made:
                    try:
                        self._made[part] = make()
                    except InputError as error:  # the same job is refused in the same words each time
                        self._made[part] = error
        made = self._made[part]
        if isinstance(made, InputError):
            raise made.with_traceback(None)
        return cast("Part", made)

    def design(self) -> Design:
        """Give the design."""
        return self._once("design", lambda: design(self._read()))

    def price(self) -> Price:
        """Give the price; without a price book it is one of quantities alone."""
        own = self.own_price()
        return self._once("price", lambda: with_alternatives(own, self.folder))

    def own_price(self) -> Priced:
        """Give the price without alternatives: each of those is designed anew."""
        made = self.design()
        return self._once("own price", lambda: own_price_of(made, self.folder))

    def priced_alone(self) -> Priced:
        """Give the price without risk and alternatives: soon made, for whoever asks why."""
        made = self.design()
        return self._once("priced alone", lambda: priced_alone(made, self.folder))

    def programme(self) -> Programme:
        """Give the programme."""
        made = self.design()
        return self._once("programme", lambda: programme(made))

    def whole(self) -> Whole:
        """Give all of it; a price or a programme that cannot be made is left out, and said."""
        made = self.design()
        priced = _or_error(self.price) if made.job.asked.price.book else None
        return put_together(made, priced, _or_error(self.programme))


def _or_error(make: Callable[[], Part]) -> Part | InputError:
    try:
        return make()
    except InputError as error:
        return error


def _why(kept: KeptWhole, thing: str) -> dict[str, Any]:
    return explanation_record(
        explain_any(kept.design(), thing, kept.folder, kept.priced_alone, kept.programme)
    )


def _outputs(kept: KeptWhole) -> tuple[dict[str, bytes], list[tuple[str, str]]]:
    """Give every file of the command line's whole set, and what is left out and why."""
    made = whole_set(kept.whole(), refuses=False)
    return dict(made.files), [(one.what, one.sentence) for one in made.left_out]


def _price(kept: KeptWhole) -> dict[str, Any]:
    return price_record(kept.design(), kept.price())[0]


def _own_price(kept: KeptWhole) -> dict[str, Any]:
    own = kept.own_price()
    return price_record(own.design, own.price)[0]


def _prices(kept: KeptWhole) -> dict[str, Any]:
    """Give the prices that the job is paid by, known and missing."""
    own = kept.own_price()
    priced, needed = own.price, needed_prices(own.price, own.book)
    return {
        "currency": priced.currency,
        "book": priced.book,
        "prices": [needed_record(one, priced.digits) for one in needed],
        "left_out": len(priced.missing),
    }


def _price_book(kept: KeptWhole, name: str) -> bytes:
    """Give a price book to be filled in."""
    return starter_book(kept.own_price(), name)


def _programme(kept: KeptWhole) -> dict[str, Any]:
    return programme_json(kept.design(), kept.programme())[0]


def _programme_files(kept: KeptWhole) -> dict[str, bytes]:
    return programme_outputs(kept.design(), kept.programme())


def _design_json(kept: KeptWhole) -> bytes:
    return design_json(kept.design())[1]


CALLS: Mapping[str, Callable[..., Any]] = {
    "why": _why,
    "outputs": _outputs,
    "design.json": _design_json,
    "price": _price,
    "own price": _own_price,
    "prices": _prices,
    "price book": _price_book,
    "programme": _programme,
    "programme files": _programme_files,
}
"""What may be asked of a whole design."""
