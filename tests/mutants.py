"""Mutation testing: change one thing in a module, run its tests, and list the changes that no test noticed.

    python tests/mutants.py recap/money.py                       # every change
    python tests/mutants.py recap/match/*.py --sample 60         # sixty of each module, the same every time
    python tests/mutants.py recap/money.py --pick 17,40 --wide   # these two, with the slower tests as well

What survives shows where the tests assert too little, or code that makes no difference. Nothing is written: a changed
module lives only in a forked process, where an import hook hands it out in place of the file. A change that runs into
the time limit counts as noticed. POSIX only.
"""

from __future__ import annotations

import argparse
import ast
import gc
import importlib
import importlib.abc
import importlib.util
import os
import random
import signal
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import Phase, settings

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from importlib.machinery import ModuleSpec
    from types import ModuleType

ROOT = Path(__file__).resolve().parent.parent

ORACLE = "optimise/test_against_oracle"
PREFERENCES = "optimise/test_entrance optimise/test_preferences"
LISTS = (
    "normalise/test_reading_rules normalise/test_values_in_lines normalise/test_more_habits normalise/test_real_life "
    "normalise/test_second_thoughts normalise/test_tables_in_lists"
)
MORE_LISTS = (
    "normalise/test_corpus normalise/test_values normalise/test_dispatch normalise/test_owners_lists "
    "normalise/test_headings_by_form normalise/test_canonical normalise/test_remarks_on_others "
    "normalise/test_labelled_records normalise/test_workshop_lists normalise/test_quantities"
)
MORE_FILES = "read/test_hostile normalise/test_tables_in_lists normalise/test_corpus bench_folder/test_catalogues"
SHEET_RULES = (
    "bench_folder/test_price_sheet_rules bench_folder/test_odd_sheets bench_folder/test_shops_own_columns "
    "bench_folder/test_simple_ladders bench_folder/test_other_systems bench_folder/test_side_by_side"
)
BENCH_FILES = (
    "bench/terms bench/onhand bench/offers bench/load bench/market bench/merge bench/ages "
    "bench/shelves bench/lifecycle bench/starter"
)
SHEETS = "bench_folder/test_catalogues bench_folder/test_price_sheets bench_folder/test_quick_ways cli/test_first_hour"
VALUES = "normalise/test_values normalise/test_numbers_exactly"
PRINTED = (
    "show/test_figures_printed show/test_records_printed show/test_stories_printed show/test_audit_printed "
    "show/test_work_printed show/test_lists_printed show/test_benches_printed"
)
TESTS: tuple[tuple[str, str, str], ...] = (
    ("money", "test_money", ORACLE),
    ("match/life", "match/test_life", ""),
    ("match/esr", "match/test_esr", ""),
    ("match/", "match/test_rules match/test_rule_words match/test_limits", "match/test_rule_properties cli/test_rules"),
    (
        "normalise/mark normalise/standard_marks",
        "normalise/test_markings normalise/test_dates_on_parts",
        "normalise/test_values",
    ),
    ("normalise/preferred", "normalise/test_preferred", "normalise/test_values"),
    ("normalise/decimals", "normalise/test_decimals", "normalise/test_values"),
    ("normalise/quantities", "normalise/test_quantities normalise/test_numbers_exactly", ""),
    ("normalise/capacitances normalise/voltages normalise/pairs", VALUES, f"{LISTS} {MORE_LISTS}"),
    ("normalise/designators", "normalise/test_designators", LISTS),
    ("normalise/cell_readers normalise/columns normalise/counts", "normalise/test_cells", f"{LISTS} {MORE_LISTS}"),
    ("normalise/checks normalise/record_numbers", "normalise/test_whole_lists_checked", f"{LISTS} {MORE_LISTS}"),
    ("normalise/value_rules", "normalise/test_numbers_exactly normalise/test_workshop_lists", ""),
    ("normalise/", LISTS, MORE_LISTS),
    ("read/delimited", "read/test_delimited read/test_quoting", MORE_FILES),
    ("read/", "read/test_headers read/test_workbook read/test_encodings", MORE_FILES),
    ("order/allot order/prefer", "order/test_allotment", "order/test_files order/test_compare"),
    ("order/explain", "order/test_explained", "order/test_compare"),
    ("order/impossible", "order/test_shortages", "order/test_impossible"),
    ("order/margins", "order/test_margins_of_orders", "cli/test_margin"),
    ("order/run order/unmet", "order/test_run", "cli/test_order_options"),
    ("order/compare", "order/test_compare order/test_ways_to_buy", "order/test_run"),
    ("order/wording", "order/test_wording", ""),
    ("order/", "order/test_compare order/test_files", "order/test_impossible order/test_old_prices demo/test_demo"),
    ("bench/setlist", "bench_folder/test_jobs bench_folder/test_errors", SHEETS),
    (
        BENCH_FILES,
        "bench_folder/test_errors bench_folder/test_offers bench_folder/test_merge bench_folder/test_new",
        SHEETS,
    ),
    ("bench/cache bench/quick bench/arrow bench/cells", "bench_folder/test_cache bench_folder/test_quick_ways", SHEETS),
    ("bench/dates", "bench_folder/test_dates", SHEETS),
    ("bench/ladders", "bench_folder/test_ladders bench_folder/test_price_sheet_rules", SHEETS),
    ("bench/", SHEET_RULES, SHEETS),
    ("audit/deliveries audit/movements", "audit/test_what_goes_where", "audit/test_goods_in"),
    ("audit/drawer audit/receive", "audit/test_lots_in_the_drawer audit/test_goods_in", ""),
    ("audit/estimate", "audit/test_looking_ahead audit/test_suspects", "audit/test_commands"),
    ("audit/due", "audit/test_when_due", "audit/test_looking_ahead"),
    ("audit/suspicion audit/review", "audit/test_reasons_to_look_again audit/test_review", "audit/test_commands"),
    ("audit/", "audit/test_edges_of_the_record audit/test_state", "audit/test_looking_ahead audit/test_commands"),
    ("fit/plan fit/bags", "fit/test_plans fit/test_bags", "fit/test_commands"),
    ("fit/", "fit/test_dangers fit/test_worklist", "fit/test_labels fit/test_checklist_files fit/test_commands"),
    ("show/order", "show/test_orders_printed", "cli/test_order_options"),
    ("show/", PRINTED, "cli/test_check_commands cli/test_margin cli/test_import audit/test_commands"),
    ("cli/", "cli/test_check_commands cli/test_typed_figures cli/test_typed", f"{PRINTED} audit/test_commands"),
    ("optimise/verify", "optimise/test_verify", ORACLE),
    ("optimise/covers", "optimise/test_covers", f"optimise/test_sums_to_the_unit optimise/test_parcels {ORACLE}"),
    (
        "optimise/sums optimise/parcels",
        "optimise/test_sums_to_the_unit optimise/test_sums optimise/test_parcels",
        ORACLE,
    ),
    ("optimise/polish", "optimise/test_polish optimise/test_first_order optimise/test_search", ORACLE),
    ("optimise/rows", "optimise/test_rows optimise/test_program optimise/test_residue optimise/test_limits", ORACLE),
    ("optimise/columns optimise/merits", "optimise/test_columns", ORACLE),
    ("optimise/fill optimise/instance optimise/rebuild", "optimise/test_whole_numbers", ORACLE),
    ("optimise/leaf", "optimise/test_leaf_bounds", ORACLE),
    ("optimise/clusters", "optimise/test_clusters optimise/test_leaf_bounds", ORACLE),
    ("optimise/relaxation", "optimise/test_relaxation optimise/test_leaf_bounds", ORACLE),
    ("optimise/quotes", "optimise/test_quotes optimise/test_columns", ORACLE),
    ("optimise/residue", "optimise/test_residue", ORACLE),
    ("optimise/nodes optimise/gains", "optimise/test_turns", ORACLE),
    ("optimise/search", "optimise/test_search optimise/test_bounds", ORACLE),
    ("optimise/branching", "optimise/test_short_patience optimise/test_told_truly", f"optimise/test_limits {ORACLE}"),
    ("optimise/start", "optimise/test_first_order optimise/test_told_truly", ORACLE),
    ("optimise/steps_apart", "optimise/test_steps_apart", ORACLE),
    ("optimise/solver", "optimise/test_solver_says optimise/test_told_truly", ORACLE),
    ("optimise/solve optimise/ties", f"optimise/test_told_truly {PREFERENCES}", ORACLE),
    ("optimise/program", "optimise/test_program optimise/test_limits optimise/test_worked_cases", ORACLE),
    ("optimise/decode", "optimise/test_decoded optimise/test_whole_numbers", ORACLE),
    ("optimise/", "optimise/test_preferences optimise/test_shared_spares", f"optimise/test_bounds {ORACLE}"),
)
"""Beginnings of modules' paths: the quick tests of them, then the slower ones; the first line that suits counts."""

PRELOADED = "numpy pandas pyarrow scipy.optimize rapidfuzz openpyxl highspy pulp rich typer eseries renard rkm_codes"
"""Libraries loaded once, before the forks."""
OPTIONS = "-x -q --assert=plain -p no:anyio -p no:xdist -p no:unraisableexception"
"""Of pytest: stop at the first failure, and start quickly."""

OPPOSITES = ((ast.Eq, ast.NotEq), (ast.Is, ast.IsNot), (ast.In, ast.NotIn), (ast.Add, ast.Sub), (ast.BitAnd, ast.BitOr))
SWAPS: dict[type[ast.AST], tuple[type[Any], ...]] = {
    **{one: (other,) for pair in OPPOSITES for one, other in (pair, pair[::-1])},
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    **dict.fromkeys((ast.Div, ast.FloorDiv, ast.Mod), (ast.Mult,)),
    ast.Mult: (ast.Div,),
}
NAMES = {"min": "max", "max": "min", "any": "all", "all": "any"}


def variants(node: ast.AST) -> Iterator[ast.AST]:
    """Yield what ``node`` may be changed to: operators, then constants and names, then the flow."""
    match node:
        case ast.Compare(left, ops, those):
            for i, op in enumerate(ops):
                yield from (ast.Compare(left, [*ops[:i], other(), *ops[i + 1 :]], those) for other in SWAPS[type(op)])
        case ast.BinOp(left, op, right):
            yield from (ast.BinOp(left, other(), right) for other in SWAPS.get(type(op), ()))
        case ast.BoolOp(op, values):
            yield ast.BoolOp(ast.Or() if isinstance(op, ast.And) else ast.And(), values)
            for i in range(len(values)):
                rest = [*values[:i], *values[i + 1 :]]
                yield ast.BoolOp(op, rest) if len(rest) > 1 else rest[0]
        case ast.UnaryOp(ast.Not() | ast.USub(), operand):
            yield operand
        case ast.IfExp(test, body, orelse):
            yield ast.IfExp(test, orelse, body)
        case ast.Constant(bool() as value):
            yield ast.Constant(not value)
        case ast.Constant(int() | float() as value):
            yield from (ast.Constant(other) for other in dict.fromkeys((value + 1, value * 2 or -1)))
        case _:
            yield from _others(node)


def _others(node: ast.AST) -> Iterator[ast.AST]:
    match node:
        case ast.Call(ast.Name("Decimal") as decimal, [ast.Constant(str() as text)]) if text:
            yield ast.Call(decimal, [ast.Constant(text + ("1" if "." in text else ".1"))], [])
        case ast.Name(name, ast.Load()) if name in NAMES:
            yield ast.Name(NAMES[name], ast.Load())
        case ast.If(_, body, orelse):
            yield from (ast.If(ast.Constant(value), body, orelse) for value in (True, False))
        case ast.comprehension(target, each, tests, later):
            for i in range(len(tests)):
                yield ast.comprehension(target, each, [*tests[:i], *tests[i + 1 :]], later)
        case ast.Return(ast.expr() as value) if ast.unparse(value) not in {"None", "False"}:
            yield ast.Return(ast.Constant(None))
        case ast.Expr(ast.Call()) | ast.AugAssign() | ast.Continue() | ast.Break() | ast.Raise():
            yield ast.Pass()


def nodes(tree: ast.AST) -> Iterator[ast.AST]:
    """Yield the nodes that do something when the program runs: no annotations, imports, asserts."""
    for name, field in ast.iter_fields(tree):
        if name not in {"annotation", "returns", "decorator_list"}:
            for child in field if isinstance(field, list) else [field]:
                idle = isinstance(child, ast.Import | ast.ImportFrom | ast.Assert)
                for_types = isinstance(child, ast.If) and ast.unparse(child.test) == "TYPE_CHECKING"
                if isinstance(child, ast.AST) and not idle and not for_types:
                    yield child
                    yield from nodes(child)


def changes(source: str) -> list[tuple[int, int]]:
    """Return every change of a module as (which node, which of its variants)."""
    return [(i, j) for i, node in enumerate(nodes(ast.parse(source))) for j, _ in enumerate(variants(node))]


def changed(source: str, change: tuple[int, int]) -> tuple[str, ast.Module]:
    """Return the line and the change in words, and the changed module."""
    tree = ast.parse(source)  # anew for each: a variant shares nodes with what it came from
    old = list(nodes(tree))[change[0]]
    new = list(variants(old))[change[1]]
    line = next((node.lineno for node in ast.walk(old) if isinstance(node, ast.expr | ast.stmt)), 0)
    shown = [" ".join(ast.unparse(node).split()) for node in (old, new)]
    words = "  ->  ".join(text if len(text) <= 70 else f"{text[:45]} … {text[-22:]}" for text in shown)
    Put(old, new).visit(tree)
    return f"{line}: {words}", ast.fix_missing_locations(tree)


class Put(ast.NodeTransformer):
    """Put one node in the place of another."""

    def __init__(self, old: ast.AST, new: ast.AST) -> None:
        self.old, self.new = old, new

    def visit(self, node: ast.AST) -> Any:
        return ast.copy_location(self.new, node) if node is self.old else self.generic_visit(node)


class Hand(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Hand out a changed module in place of its file."""

    def __init__(self, path: Path, tree: ast.Module) -> None:
        self.name, self.path, self.tree = ".".join(path.relative_to(ROOT).with_suffix("").parts), path, tree

    def find_spec(self, fullname: str, *_: object) -> ModuleSpec | None:
        wanted = fullname == self.name
        return importlib.util.spec_from_file_location(fullname, self.path, loader=self) if wanted else None

    def exec_module(self, module: ModuleType) -> None:
        exec(compile(self.tree, str(self.path), "exec"), module.__dict__)


class Quickly:
    """Property tests draw fewer examples, and stop at the first that fails: a shorter one isn't looked for."""

    def pytest_configure(self) -> None:
        phases = (Phase.explicit, Phase.generate)
        settings.register_profile("mutants", settings(), phases=phases, max_examples=25, database=None)
        settings.load_profile("mutants")


def noticed(path: Path, tree: ast.Module, tests: Sequence[str], limit: float) -> bool:
    """Run the tests on a changed module in a process of its own; tell whether one failed or time ran out."""
    child = os.fork()
    if child == 0:
        quiet = os.open(os.devnull, os.O_WRONLY)
        for stream in (1, 2):
            os.dup2(quiet, stream)
        sys.meta_path.insert(0, Hand(path, tree))
        signal.setitimer(signal.ITIMER_PROF, limit)  # the processor's seconds: others may work on this machine
        os._exit(int(pytest.main([*OPTIONS.split(), *tests], plugins=[Quickly()])))
    _, status = os.waitpid(child, 0)
    return status != 0


def survivors(path: Path, chosen: Sequence[int], tests: Sequence[str], limit: float) -> Iterator[int]:
    """Say which of the chosen changes no test notices, and yield their numbers."""
    source = path.read_text(encoding="utf-8")
    files = [f"{ROOT}/tests/{name}.py" for name in tests]
    if noticed(path, ast.parse(source), files, limit):
        raise SystemExit(f"{path}: no tests named, or they fail or take over {limit} s without any change: {tests}")
    every = changes(source)
    for number in chosen:
        words, tree = changed(source, every[number])
        if not noticed(path, tree, files, limit):
            say(f"  {number:4}  {path.relative_to(ROOT)}:{words}")
            yield number


def say(line: str) -> None:
    """Print a line at once: the next one may take minutes."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def main() -> None:
    """Try the changes that the command line asks for."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n", 1)[0])
    parser.add_argument("modules", nargs="+", type=Path)
    parser.add_argument("--wide", action="store_true", help="the slower tests too, on what the quick ones let pass")
    parser.add_argument("--sample", type=int, default=10**6, help="at most so many changes of each module")
    parser.add_argument("--seed", type=int, default=1, help="which ones")
    parser.add_argument("--pick", help="only the changes of these numbers: 17,40")
    parser.add_argument("--limit", type=float, default=30, help="seconds of the processor for the tests of one change")
    given = parser.parse_args()
    for library in PRELOADED.split():
        importlib.import_module(library)
    gc.freeze()
    for path in map(Path.resolve, given.modules):
        start, place = time.monotonic(), path.relative_to(ROOT).as_posix()
        every = range(len(changes(path.read_text(encoding="utf-8"))))
        chosen = sorted(random.Random(given.seed).sample(every, min(given.sample, len(every))))
        chosen = [int(number) for number in given.pick.split(",")] if given.pick else chosen
        inside = place.removeprefix("recap/")
        _, quick, slow = next((row for row in TESTS if inside.startswith(tuple(row[0].split()))), ("", "", ""))
        left = list(survivors(path, chosen, quick.split(), given.limit))
        if given.wide and left and slow:
            say("  of these, with the slower tests:")
            left = list(survivors(path, left, slow.split(), 10 * given.limit))
        took = time.monotonic() - start
        say(f"{place}: {len(left)} of {len(chosen)} unnoticed, {len(every)} in all, {took:.0f} s")


if __name__ == "__main__":
    sys.path[0] = str(ROOT)
    main()
