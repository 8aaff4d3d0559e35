"""The catalogue: entries that travel with the program, all invented, and the user's own."""

from planner.plan.catalogue.built_in import built_in_entries
from planner.plan.catalogue.collection import (
    Catalogue,
    added,
    merged,
    removed,
    renamed,
    replaced,
    updated,
)
from planner.plan.catalogue.csv_file import dumps_csv, loads_csv
from planner.plan.catalogue.entry import (
    KINDS,
    AmplifierEntry,
    CableEntry,
    Entry,
    LoudspeakerEntry,
    Made,
    MaterialEntry,
    SourceEntry,
    entry_of,
    plain_data,
    read_entry,
    title_of,
)
from planner.plan.catalogue.exchange import export_entries, import_entries
from planner.plan.catalogue.into_plan import from_candidate, put_into, put_material
from planner.plan.catalogue.json_file import dumps_json, loads_json
from planner.plan.catalogue.own import change_own, load_catalogue, own_path, save_own

__all__ = [
    "KINDS",
    "AmplifierEntry",
    "CableEntry",
    "Catalogue",
    "Entry",
    "LoudspeakerEntry",
    "Made",
    "MaterialEntry",
    "SourceEntry",
    "added",
    "built_in_entries",
    "change_own",
    "dumps_csv",
    "dumps_json",
    "entry_of",
    "export_entries",
    "from_candidate",
    "import_entries",
    "load_catalogue",
    "loads_csv",
    "loads_json",
    "merged",
    "own_path",
    "plain_data",
    "put_into",
    "put_material",
    "read_entry",
    "removed",
    "renamed",
    "replaced",
    "save_own",
    "title_of",
    "updated",
]
