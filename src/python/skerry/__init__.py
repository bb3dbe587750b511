"""Skerry's engine: which bands open, how strong you are with each antenna, and so what to pack.

    import skerry
    skerry.path("-19.70,63.43", "JN45", month="2027-02", r12=60)["ways"][0]["openings"]
    skerry.pack("my-trip.toml")["carry"]

Answers are dictionaries that follow the JSON Schemas in docs/schemas (types in skerry.answers); with `format="text"`,
"json" or "csv" they are the program's own bytes as a string. Units stand in the names of keys and arguments; longitude
is positive east, azimuth clockwise from north, hours are UTC. Options that are None are left to their default.

Places are "lat,lon" in degrees, a locator, a name of the built-in list, a pair (lat, lon), or {"lat_deg", "lon_deg"}.
Trips are TOML text, a dictionary of the same keys, or a path: pathlib.Path, or the name of a file as text.

What cannot be answered raises Mistake; what is answered with doubts warns with Caution. The interpreter's lock is free
while the engine works. Same question, same bytes: nothing is looked up but the files that you name.
"""
from __future__ import annotations

import datetime
import json
import os
import warnings
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Literal, Union

from . import _skerry, _toml

if TYPE_CHECKING:
    import numpy

    from . import answers

__version__: str = _skerry.version
__all__ = [
    "Caution", "Mistake", "antenna", "batch", "coverage", "explain", "ionosphere", "pack", "path", "score",
    "set_threads", "sun",
]

Place = Union[str, Sequence[float], Mapping[str, float]]
Trip = Union[str, "os.PathLike[str]", Mapping[str, Any]]
Format = Literal["text", "json", "csv"]
Progress = Callable[[float], Any]

#: Most bytes of a trip file, as on the command line.
_MOST_TRIP_BYTES = 1 << 20
_MOST_TABLE_BYTES = 512 << 20


class Mistake(ValueError):
    """Something in a question or file is not as it must be.

    The message has a line for each mistake, as the program prints it. Of the first: `file` (the file, argument or option
    at fault; may be empty), `line` and `column` (from 1; 0: not known), `found`, `accepted`, `mend` (a hint; may be
    empty). `all` has a dictionary of these for each.
    """

    def __init__(self, mistakes: Sequence[Mapping[str, Any]], message: str | None = None):
        super().__init__(message or "\n".join(one["text"] for one in mistakes))
        self.all = [dict(one) for one in mistakes]
        first = mistakes[0]
        self.file: str = first.get("where", "")
        self.line: int = first.get("line", 0)
        self.column: int = first.get("column", 0)
        self.found: str = first["found"]
        self.accepted: str = first["accepted"]
        self.mend: str = first.get("mend", "")

    def __reduce__(self):  # with its mistakes through a process pool
        return type(self), (self.all, str(self))


class Caution(UserWarning):
    """An answer stands, and something about the question may not be meant."""


def _refuse(at: str, found: str, accepted: str, **more: Any) -> Mistake:
    text = f"{at}: found {found}; expected {accepted}"
    return Mistake([{"text": text, "where": at, "found": found, "accepted": accepted, **more}])


def _day(value: Any) -> Any:
    return value.isoformat() if isinstance(value, datetime.date) else value


def _when(options: dict[str, Any]) -> dict[str, Any]:
    """A day for what has none: today, by UTC."""
    options["date"] = _day(options.get("date"))
    if options["date"] is None and options.get("month") is None:
        options["date"] = datetime.datetime.now(datetime.timezone.utc).date().isoformat()
    return options


def _place(place: Place) -> Any:
    if isinstance(place, (str, Mapping)):
        return place
    lat, lon = place
    return {"lat_deg": float(lat), "lon_deg": float(lon)}


def _plain(value: Any) -> Any:
    """For json: numpy's numbers and arrays as Python's."""
    if hasattr(value, "tolist"):
        return value.tolist()
    raise TypeError(f"cannot be asked with {value!r}")


def _message(**message: Any) -> str:
    return json.dumps({key: value for key, value in message.items() if value is not None}, default=_plain, allow_nan=False)


def _read(file: str, most: int) -> str:
    with open(file, "rb") as source:
        content = source.read(most + 1)
    if len(content) > most:
        raise _refuse(file, "a larger file", f"at most {most >> 20} MB")
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as problem:
        line = content.count(b"\n", 0, problem.start) + 1
        raise _refuse(f"{file}:{line}", "bytes that are no UTF-8", "UTF-8 text", where=file, line=line) from None


def _is_file(text: str) -> bool:
    # A name has no line break and no key; what is neither is told as a file that is not there.
    return "\n" not in text and "=" not in text


def _trip(trip: Trip) -> tuple[str, str | None]:
    """The text of a trip, and its file's name."""
    if isinstance(trip, Mapping):
        return _toml.dumps(trip), None
    if isinstance(trip, str) and not (os.path.isfile(trip) or _is_file(trip)):
        return trip, None
    file = os.fspath(trip)
    return _read(file, _MOST_TRIP_BYTES), file


def _told_trip(question: Mapping[str, Any]) -> Mapping[str, Any]:
    """A question whose trip is text."""
    if question.get("trip") is None:
        return question
    text, file = _trip(question["trip"])
    return {**question, "trip": text} if file is None else {"name": file, **question, "trip": text}


def _answer(message: str, format: Format | None, file: str | None = None, **watch: Any) -> Any:
    said = json.loads(_skerry.answer(message, file, **watch))
    if not said["ok"]:
        lines = said["error"].split("\n")
        raise Mistake([{**one, "text": line} for one, line in zip(said["errors"], lines)], said["error"])
    for warning in said.get("warnings", ()):
        warnings.warn(warning, Caution, stacklevel=3)
    return json.loads(said["text"]) if format is None else _skerry.written_out(said["text"])


def pack(
    trip: Trip,
    *,
    mass_limit_kg: float | None = None,
    tolerance_percent: float | None = None,
    drop: Sequence[str] | None = None,
    add: Sequence[str] | None = None,
    show: Sequence[str] | None = None,
    table: Literal["hours", "things"] | None = None,
    es: Literal["on", "off"] | None = None,
    fof2: Sequence[str] | None = None,
    files: Mapping[str, str] | None = None,
    outside: bool = False,
    time_limit_s: float | None = None,
    progress: Progress | None = None,
    format: Format | None = None,
    columns: int | None = None,
) -> answers.Pack | Any:
    """What to carry, what to leave, and why.

    mass_limit_kg, tolerance_percent  in place of the trip's (kits that differ by less are the same)
    drop, add      ids of things that stay and of those that come too: the answer has "what_if"
    show           of text: sections beyond the first screen, or ["all"]
    table          of csv: the hours, or the things of the packing list
    fof2           readings of the day, "6.2@-20.1,57.5@14:30" (MHz, place, UTC)
    files          contents of the files that the trip names; those of a trip's path are read beside it, and anywhere
                   with `outside`; with them your own forecast of the Sun, where 'skerry forecast import' keeps one
    time_limit_s   seconds after which the best kit found so far is the answer ("proved" says which)
    progress       called with the seconds so far, ten times a second, once there is a kit; False ends the search so
    returns        docs/schemas/pack.json; masses in g, reach as a share of what is wanted, 0..1
    """
    text, file = _trip(trip)
    message = _message(
        do="pack", trip=text, name=file, mass_limit_kg=mass_limit_kg, tolerance_percent=tolerance_percent, drop=drop, add=add,
        show=show, table=table, es=es, fof2=fof2, files=files, format=format or "json", columns=columns,
    )
    told = None if progress is None else lambda seconds: progress(-seconds)
    return _answer(message, format, file, outside=outside, seconds=time_limit_s, progress=told)


def explain(
    trip: Trip,
    *,
    region: str | None = None,
    site: str | None = None,
    bands: Sequence[str] | None = None,
    hour: int | None = None,
    es: Literal["on", "off"] | None = None,
    fof2: Sequence[str] | None = None,
    files: Mapping[str, str] | None = None,
    outside: bool = False,
    format: Literal["text", "json"] | None = None,
    columns: int | None = None,
) -> answers.Explain | Any:
    """Why each band of a trip opens or not; in plain words with format="text".

    region  an id, or "all"; without it the one that weighs most.  site  an id; without it the first
    hour    UTC, 0..23; without it each band's best.  columns  width of the text, 60..200
    returns  docs/schemas/explain.json: "paths", each with its "bands"
    """
    text, file = _trip(trip)
    message = _message(
        do="explain", trip=text, name=file, region=region, site=site, bands=bands, hour=hour, es=es, fof2=fof2, files=files,
        format=format or "json", columns=columns,
    )
    return _answer(message, format, file, outside=outside)


def antenna(
    antennas: Trip,
    *,
    id: str | None = None,
    mhz: Sequence[float] | float | None = None,
    ground: str | None = None,
    eps_r: float | None = None,
    sigma: float | None = None,
    height_m: float | None = None,
    end_height_m: float | None = None,
    far_height_m: float | None = None,
    conductive: bool | None = None,
    standoff_m: float | None = None,
    cable: str | None = None,
    cable_m: float | None = None,
    tuner: bool | None = None,
    shape: str | None = None,
    sea_from_m: float | None = None,
    slope_deg: float | None = None,
    toward_deg: float | None = None,
    explain: bool | None = None,
    format: Format | None = None,
    columns: int | None = None,
) -> answers.Antenna | Any:
    """Gain against elevation and where the power goes, for the [[antenna]] tables of a trip.

    mhz      1.6..60, 14.1 without it.  ground  "average", "rock", "sea" ..., or eps_r with sigma (S/m)
    returns  docs/schemas/antenna.json; gains in dBi with all losses, impedances in ohms
    """
    text, file = _trip(antennas)
    message = _message(
        do="antenna", trip=text, name=file, antenna=id, mhz=[mhz] if isinstance(mhz, (int, float)) else mhz, ground=ground,
        eps_r=eps_r, sigma=sigma, height_m=height_m, end_height_m=end_height_m, far_height_m=far_height_m,
        conductive=conductive, standoff_m=standoff_m, cable=cable, cable_m=cable_m, tuner=tuner, shape=shape,
        sea_from_m=sea_from_m, slope_deg=slope_deg, toward_deg=toward_deg, explain=explain, format=format or "json",
        columns=columns,
    )
    return _answer(message, format)


def _question(at: Place, to: Place, options: dict[str, Any]) -> dict[str, Any]:
    options = {key: value for key, value in _when(options).items() if value is not None}
    return {"from": _place(at), "to": _place(to), **options}


def path(
    from_: Place,
    to: Place,
    *,
    spread: bool | None = None,
    kp: float | None = None,
    flare: bool | None = None,
    protons: bool | None = None,
    format: Format | None = None,
    columns: int | None = None,
    **question: Any,
) -> answers.Path | Any:
    """Which bands open between two places, hour by hour, and how well.

    question  keys of a line of `skerry batch`: month ("2027-02") or date (without either: today, UTC); r12 | ssn_v2 |
              f107; maps; field_epoch; bands or mhz (lists; without either all below 30 MHz); way ("short", "long",
              "both"); mode; power_w, to_power_w; gain_from_dbi, gain_to_dbi; noise_from, noise_to; noise_figure_db;
              skyline_deg, skyline_km; spread_to_db; absorption; ground_loss; far_method; es; want_days; fof2
    spread    also how far published forms of the method and 30 sunspots move the days
    kp, flare, protons  mark the paths that a disturbance makes unreliable (kp 0..9)
    returns   docs/schemas/path.json: "ways", each with 24 "hours" of "bands"; S/N in dB, days in ten, MUF in MHz
    """
    message = _message(
        do="path", question=_question(from_, to, question), spread=spread, kp=kp, flare=flare, protons=protons,
        format=format or "json", columns=columns,
    )
    return _answer(message, format)


def sun(
    at: Place,
    to: Place | None = None,
    *,
    date: str | datetime.date | None = None,
    zone: str | None = None,
    height_m: float | None = None,
    format: Format | None = None,
    columns: int | None = None,
) -> answers.Sun | Any:
    """Sunrise, sunset, twilights, and with a far place the grey line of the path between.

    date     without it today, UTC.  zone  "Indian/Mauritius"; without it the legal time there.  height_m  over the sea
    returns  docs/schemas/sun.json; moments as ISO 8601 UTC, None where nature has none
    """
    message = _message(
        do="sun", at=_place(at), to=None if to is None else _place(to), zone=zone, height_m=height_m, format=format or "json",
        columns=columns, **{key: value for key, value in _when({"date": date}).items()},
    )
    return _answer(message, format)


def ionosphere(at: Place, *, format: Format | None = None, columns: int | None = None, **sky: Any) -> answers.Ionosphere | Any:
    """Critical frequencies over one place, hour by hour.

    sky      month or date (without either: today, UTC), r12 | ssn_v2 | f107, maps, field_epoch, fof2
    returns  docs/schemas/ionosphere.json: 24 "hours"; frequencies in MHz
    """
    return _answer(_message(do="ionosphere", at=_place(at), format=format or "json", columns=columns, **_when(sky)), format)


#: What a coverage can hold for each cell.
FIELDS = ("snr_db", "return_snr_db", "days_in_ten", "return_days_in_ten", "both_days_in_ten", "long_way")


def coverage(
    at: Place, *, fields: Sequence[str] = FIELDS, progress: Progress | None = None, **question: Any
) -> dict[str, Any] | None:
    """Where in the world a station would be heard, hour by hour, as numpy arrays.

    fields    which arrays, each float32 of shape (hours, bands, rows, columns), north to south and west to east:
              "snr_db", "return_snr_db" (medians in the mode's bandwidth, dB; nan: closed), "days_in_ten",
              "return_days_in_ten", "both_days_in_ten" (0..10), "long_way" (1 where the way taken is the long one)
    question  as for path(), but "grid" (degrees, divides 180; 2), "hours" (list; all), "bands" or "mhz" (20m), "way"
              ("short", "long", "best"), "want_days" (5)
    progress  called with the share done, 0..1; False ends the work, and the answer is None
    returns   the arrays, which own their numbers (nothing is copied), "lat_deg" (rows) and "lon_deg" (columns) of the
              cells' middles, "utc_hour", "mhz", "band" (None outside the bands), and "map": docs/schemas/map.json, the
              share of the world where both directions work on want_days
    cost      about 0.35 us of one core a cell, hour and band; 4 bytes for each and field
    """
    for field in fields:
        if field not in FIELDS:
            raise _refuse("fields", repr(field), "some of " + ", ".join(FIELDS))
    said = _skerry.coverage(_message(at=_place(at), **_when(question)), list(fields), progress)
    if isinstance(said, list):
        raise Mistake(said)
    if said is not None:
        for warning in said.pop("warnings"):
            warnings.warn(warning, Caution, stacklevel=2)
        said["map"] = json.loads(said["map"])
    return said


def score(
    spots: str | os.PathLike[str] | None = None,
    *,
    hours: str | os.PathLike[str] | None = None,
    ionosonde: str | os.PathLike[str] | None = None,
    format: Format | None = None,
    columns: int | None = None,
    **options: Any,
) -> answers.Score | answers.Sondes | Any:
    """How good the forecasts were: one table, as CSV text or a path (docs/scoring.md has the columns).

    spots      reception reports: time_utc, mhz, tx, rx, power_w, snr_db
    hours      a month's hours: month, utc_hour, mhz, tx, rx, power_w, days_active, days_heard
    ionosonde  monthly medians: station, place, month, utc_hour, fof2_mhz, m3000f2
    options    r12, maps, mode ("wspr"), threshold_db, tx_gain_dbi, rx_gain_dbi, rx_noise, noise_figure_db,
               most_silent, least_days, take_off ("mirror", "traced")
    returns    docs/schemas/score.json, or sondes.json; records left out warn with Caution
    """
    message: dict[str, Any] = {}
    for key, table in (("spots", spots), ("hours", hours), ("ionosonde", ionosonde)):
        if table is None:
            continue
        if isinstance(table, str) and "\n" in table:
            message[key] = table
        else:
            message["name"] = os.fspath(table)
            message[key] = _read(message["name"], _MOST_TABLE_BYTES)
    return _answer(_message(do="score", format=format or "json", columns=columns, **message, **options), format)


def batch(
    questions: Iterable[str | Mapping[str, Any]],
    *,
    columns: bool = False,
    trips: str | os.PathLike[str] | None = None,
    format: Literal["json"] | None = None,
) -> list[answers.Batch | answers.Pack | dict[str, Any]] | list[str] | dict[str, numpy.ndarray]:
    """Many paths or trips at once, on all threads (see set_threads).

    questions  dictionaries, or lines of JSON as `skerry batch` reads them. With "do": "pack" a dictionary's "trip" is as
               in pack(), and its other keys are pack()'s: "mass_limit_kg", "drop" ...; "set" too
    trips      a folder: lines of JSON may name trip files in it or below, and those may name what lies beside them
    returns    in the order of the questions: docs/schemas/batch.json, or pack.json, or what is wrong with it ("error", "line" ...);
               with format="json" the lines that `skerry batch` writes
    columns    True: instead of dictionaries a table, as numpy arrays of one length, a row for each question, way, hour
               and frequency: "question" (int64, from 0), "long_way", "utc_hour" (int8), "mhz" (float64), and float32
               "basic_muf_mhz", "snr_db", "return_snr_db" (nan: nothing arrives), "days_in_ten", "return_days_in_ten",
               "both_days_in_ten"; and "errors", a list of lines. Questions with mistakes have no rows. Some 40 bytes a
               row, where an answer's JSON has 200
    """
    lines = [one if isinstance(one, str) else json.dumps(_told_trip(one), default=_plain) for one in questions]
    if columns:
        return _skerry.columns(lines)
    answered = _skerry.lines(lines, None if trips is None else os.fspath(trips))
    return answered if format == "json" else [json.loads(one) for one in answered]


def set_threads(count: int) -> None:
    """How many threads the engine works with, in this process; 0: the machine's. Answers never depend on it."""
    _skerry.set_threads(count)
