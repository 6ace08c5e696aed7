"""Who may import whom, and what the pure packages may not do.

The rules are checked in the source (a walk over the syntax tree) and once more by loading the
pure packages in a process of their own. Each rule is also shown a line that breaks it.
"""

import ast
import subprocess
import sys
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
APPS = ("config", "recipes", "classes", "handouts", "house", "wording")
BAKING, WORDING, PLANNING = "recipes.core", "wording", "classes.core"
PURE = (BAKING, WORDING, PLANNING)

# The fetcher is a subclass of WeasyPrint's, so it shares the room; only the renderer enters it.
RENDER, FETCHER = "handouts.press.render", "handouts.press.fetcher"

# Of the standard library: the clock, input and output, chance, and ways around these rules.
IMPURE = {
    "asyncio", "builtins", "ctypes", "glob", "http", "importlib", "io", "locale", "logging",
    "multiprocessing", "os", "pathlib", "pkgutil", "random", "runpy", "secrets", "shutil",
    "signal", "socket", "sqlite3", "ssl", "subprocess", "sys", "tempfile", "threading", "time",
    "urllib", "uuid",
}  # fmt: skip
IMPURE_CALLS = {
    "__import__", "breakpoint", "eval", "exec", "float", "input", "now", "open", "print",
    "today", "utcnow",
}  # fmt: skip


# The only pure module that takes floats from `math`, for places on a drawing.
GEOMETRY = f"{BAKING}.pans.geometry"
WHOLE_NUMBERS = {"math.ceil", "math.floor", "math.gcd", "math.isqrt", "math.lcm"}


def module_name(path):
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def modules(package):
    """Name and source of every module of a package, by name."""
    paths = sorted((ROOT / package.replace(".", "/")).rglob("*.py"))
    return {module_name(path): path.read_text(encoding="utf-8") for path in paths}


SOURCES = {name: text for app in APPS for name, text in modules(app).items()}
PACKAGES = {module_name(path) for app in APPS for path in (ROOT / app).rglob("__init__.py")}


def imports(name, source):
    """Every module that a source imports, whole names, wherever in the file it does so.

    `from package import thing` counts as `package.thing`: the thing may be a module.
    """
    found = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            base = _absolute(name, node)
            found |= {f"{base}.{alias.name}" for alias in node.names}
    return found


def _absolute(name, node):
    if not node.level:
        return node.module
    own_package = name if name in PACKAGES else name.rpartition(".")[0]
    parts = own_package.split(".")
    above = parts[: len(parts) - node.level + 1]
    return ".".join([*above, *([node.module] if node.module else [])])


def within(module, *packages):
    return any(module == one or module.startswith(f"{one}.") for one in packages)


def is_pure_library(module):
    top = module.partition(".")[0]
    return top in sys.stdlib_module_names and top not in IMPURE


def strangers(name, source):
    """What a module of a pure package imports and may not."""
    allowed = {
        BAKING: [BAKING],
        WORDING: [WORDING, BAKING],
        PLANNING: [PLANNING, WORDING, BAKING, "ortools"],
    }
    own = next(package for package in PURE if within(name, package))
    packages = allowed[own] + (["pint"] if name == f"{BAKING}.units" else [])
    return {
        module
        for module in imports(name, source)
        if not within(module, *packages) and not is_pure_library(module)
    }


def forbidden(name, source):
    """What a module of an app imports against the order of the apps."""
    wrong = {
        "recipes": ("classes", "handouts", "house"),
        "classes": ("handouts", "house"),
        "handouts": ("house",),
        "house": ("handouts",),
    }.get(name.partition(".")[0], ())
    rendering = {RENDER: (), FETCHER: ("weasyprint.HTML",)}.get(name, ("weasyprint", FETCHER))
    return {module for module in imports(name, source) if within(module, *wrong, *rendering)}


# Of the papers, only what asks for them, keeps them or checks them knows rows.
KNOW_ROWS = (
    "handouts.press", "handouts.print_desk", "handouts.checking", "handouts.management",
    "handouts.views", "handouts.student_views", "handouts.home.page", "handouts.rise_sheet",
)  # fmt: skip
WEIGHS = {
    "recipes.core.scaling": {"scale", "batch", "pool"},
    "recipes.core.weighing": {"split", "count", "Scales"},
    "recipes.core.scaling.amount_lines": {"amount_line", "dissolved"},
    "classes.core.demand": {"class_amounts", "demand_for"},
    "classes.core.shopping": {"shopping_list"},
    "recipes.variants.selectors": {"BENCH_AND_POCKET"},
}


def unpaperly(name, source):
    """What a module of the papers imports and may not: rows, and what weighs or reads them."""
    if not within(name, "handouts"):
        return set()
    found = imports(name, source)
    rows = {one for one in found if "models" in one.split(".") and not within(one, "django")}
    weighing = {f"{module}.{one}" for module, names in WEIGHS.items() for one in names}
    selecting = {"classes.selectors", "recipes.selectors"}
    wrong = found & weighing
    if not within(name, *KNOW_ROWS):
        wrong |= rows | {one for one in found if within(one, *selecting)}
    return wrong


def inner(module, names):
    """The module of ours that an import is about: itself, or what it is a name of."""
    while module and module not in names:
        module = module.rpartition(".")[0]
    return module


def circle(sources):
    """Modules that import each other in a circle, wherever in the file they do so."""
    found = {
        name: {inner(module, sources) for module in imports(name, source)} - {name, ""}
        for name, source in sources.items()
    }
    try:
        TopologicalSorter(found).prepare()
    except CycleError as error:
        return error.args[1]
    return []


def tags(name, source):
    """What a module imports of the libraries of filters, which only templates load."""
    own = "templatetags" in name.split(".")
    return {one for one in imports(name, source) if "templatetags" in one.split(".") and not own}


def is_model(name):
    return "models" in name.split(".")


def callers(name, source):
    """What a module of models imports of the layers above it."""
    above = {"access", "forms", "selectors", "services", "urls", "views"}
    return {
        module
        for module in imports(name, source)
        if module.partition(".")[0] in APPS and above & set(module.split("."))
    }


def impurities(source):
    """Lines that hold a float literal, or a call to float, to the clock or to the world."""
    wrong = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Constant) and isinstance(node.value, float | complex):
            wrong.append(f"{node.lineno}: {node.value}")
        elif isinstance(node, ast.Call) and _called(node) in IMPURE_CALLS:
            wrong.append(f"{node.lineno}: {_called(node)}()")
    return wrong


def floating(name, source):
    """What a pure module imports of `math` that gives floats."""
    found = {module for module in imports(name, source) if within(module, "math")}
    return set() if name == GEOMETRY else found - WHOLE_NUMBERS


def _called(node):
    function = node.func
    return function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")


def _last_name(node):
    return node.attr if isinstance(node, ast.Attribute) else getattr(node, "id", "")


ENUMS = {"Choice", "Enum", "IntEnum", "StrEnum", "Flag", "Choices", "TextChoices", "IntegerChoices"}


def enums(source):
    """Names of the enumerations that a source defines."""
    classes = (node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.ClassDef))
    return {node.name for node in classes if ENUMS & {_last_name(base) for base in node.bases}}


def asked_of_an_enum(source, names):
    """Lines that ask whether something is in an enumeration: Python 3.11 knows only members."""
    return [
        node.lineno
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Compare)
        for operator, right in zip(node.ops, node.comparators, strict=True)
        if isinstance(operator, ast.In | ast.NotIn) and _last_name(right) in names
    ]


ALL_ENUMS = {found for source in SOURCES.values() for found in enums(source)}
PURE_MODULES = [name for name in SOURCES if within(name, *PURE)]


def test_the_packages_under_the_rules_are_there():
    for name in (BAKING, f"{BAKING}.units", f"{BAKING}.scaling", PLANNING, f"{PLANNING}.demand"):
        assert name in PURE_MODULES
    assert any(is_model(name) for name in SOURCES)
    assert all(any(within(name, app) for name in SOURCES) for app in APPS)


@pytest.mark.parametrize("name", PURE_MODULES)
def test_a_pure_module_imports_only_what_it_may(name):
    assert strangers(name, SOURCES[name]) == set()


@pytest.mark.parametrize("name", PURE_MODULES)
def test_a_pure_module_knows_no_floats_no_clock_and_no_files(name):
    assert impurities(SOURCES[name]) == []
    assert floating(name, SOURCES[name]) == set()


@pytest.mark.parametrize("name", SOURCES)
def test_apps_import_one_way_and_only_the_renderer_knows_weasyprint(name):
    assert forbidden(name, SOURCES[name]) == set()


def test_no_modules_import_each_other_in_a_circle():
    assert circle(SOURCES) == []


@pytest.mark.parametrize("line", ["import app.{}", "from app import {}", "from app.{} import x"])
def test_the_rule_of_circles_sees_one_that_an_import_in_a_function_closes(line):
    late = {
        "app": "",
        "app.one": line.format("two"),
        "app.two": line.format("three"),
        "app.three": f"def f():\n    {line.format('one')}",
    }
    assert set(circle(late)) == {"app.one", "app.two", "app.three"}
    assert circle(late | {"app.three": line.format("four")}) == []


@pytest.mark.parametrize("name", [name for name in SOURCES if within(name, "handouts")])
def test_papers_know_the_plan_of_a_class_and_no_rows_and_weigh_nothing(name):
    assert unpaperly(name, SOURCES[name]) == set()


@pytest.mark.parametrize(
    ("name", "source", "found"),
    [
        (
            "handouts.kinds.sign_in",
            "from classes.models import ClassSession",
            {"classes.models.ClassSession"},
        ),
        (
            "handouts.labels.tubs",
            "def f():\n    from recipes.models import Ingredient",
            {"recipes.models.Ingredient"},
        ),
        (
            "handouts.kinds.oven_map",
            "from classes.enrollment.models import Enrollment",
            {"classes.enrollment.models.Enrollment"},
        ),
        (
            "handouts.stations",
            "from classes.selectors import class_plan",
            {"classes.selectors.class_plan"},
        ),
        ("handouts.press.packs", "from classes.models import Pack", set()),
        ("handouts.views", "from classes.selectors import class_plan", set()),
        (
            "handouts.views",
            "from recipes.core.scaling import batch",
            {"recipes.core.scaling.batch"},
        ),
        ("handouts.kinds.sign_in", "from classes.plan import ClassPlan", set()),
        ("handouts.recipe_card", "from recipes.core.scaling import Sheet", set()),
        ("classes.views", "from classes.models import ClassSession", set()),
    ],
)
def test_the_rule_of_the_papers_sees_what_breaks_it(name, source, found):
    assert unpaperly(name, source) == found


def test_the_plan_of_a_class_loads_without_django():
    program = "import sys, classes.plan\nprint(*(one for one in sys.modules if one == 'django'))"
    run = [sys.executable, "-c", program]
    done = subprocess.run(run, cwd=ROOT, capture_output=True, text=True)
    assert (done.returncode, done.stdout.strip(), done.stderr) == (0, "", "")


@pytest.mark.parametrize("name", SOURCES)
def test_only_templates_use_filters(name):
    assert tags(name, SOURCES[name]) == set()


@pytest.mark.parametrize("name", [name for name in SOURCES if is_model(name)])
def test_models_call_nobody(name):
    assert callers(name, SOURCES[name]) == set()


@pytest.mark.parametrize("name", SOURCES)
def test_nothing_asks_whether_a_word_is_in_an_enumeration(name):
    assert asked_of_an_enum(SOURCES[name], ALL_ENUMS) == []


@pytest.mark.parametrize(
    ("source", "lines"),
    [
        ("if layout not in LabelLayout:\n    pass", [1]),
        ("x = 1\ny = 'a4' in render.PageSize", [2]),
        ("x = unit in Scale.Step", [1]),
        ("x = unit in Scale.Step.values", []),
        ("for size in PageSize:\n    pass", []),
    ],
)
def test_the_rule_of_enumerations_sees_what_breaks_it(source, lines):
    assert {"LabelLayout", "PageSize", "Step", "StepKind"} <= ALL_ENUMS
    assert asked_of_an_enum(source, ALL_ENUMS) == lines


@pytest.mark.parametrize("package", PURE)
def test_a_pure_package_loads_without_django(package):
    names = [name for name in PURE_MODULES if within(name, package)]
    program = f"""
import importlib, sys
for name in {names!r}:
    importlib.import_module(name)
for unwanted in ("django", "pint", "ortools", "weasyprint"):
    if unwanted in sys.modules:
        print(unwanted)
"""
    run = [sys.executable, "-c", program]
    done = subprocess.run(run, cwd=ROOT, capture_output=True, text=True)
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")


@pytest.mark.parametrize(
    ("name", "source", "found"),
    [
        ("recipes.core.formula", "import django", {"django"}),
        ("recipes.core.formula", "import pint", {"pint"}),
        ("recipes.core.units", "import pint", set()),
        ("recipes.core.formula", "from django.conf import settings", {"django.conf.settings"}),
        ("recipes.core.formula", "from .. import models", {"recipes.models"}),
        ("recipes.core.formula", "from ..models import Recipe", {"recipes.models.Recipe"}),
        ("recipes.core.formula", "from . import units", set()),
        ("recipes.core", "from . import units", set()),
        ("recipes.core", "from .. import models", {"recipes.models"}),
        ("recipes.core.formula", "from classes.core import demand", {"classes.core.demand"}),
        ("recipes.core.formula", "def f():\n    import random", {"random"}),
        ("recipes.core.formula", "import time", {"time"}),
        ("recipes.core.formula", "from ortools.sat import python", {"ortools.sat.python"}),
        ("recipes.core.formula", "import bakingsoda", {"bakingsoda"}),
        ("recipes.core.formula", "import recipes.bakingsoda", {"recipes.bakingsoda"}),
        ("classes.core.demand", "from recipes.core import formula", set()),
        ("classes.core.demand", "from ortools.sat.python import cp_model", set()),
        ("classes.core.demand", "from recipes import models", {"recipes.models"}),
        ("classes.core.demand", "from classes.models import Place", {"classes.models.Place"}),
        ("classes.core.demand", "import pint", {"pint"}),
        ("classes.core.demand", "from wording.lists import listed", set()),
        ("recipes.core.formula", "from wording.lists import listed", {"wording.lists.listed"}),
        ("wording.masses", "from recipes.core.weighing import Weighing", set()),
        ("wording.masses", "from classes.core.money import Money", {"classes.core.money.Money"}),
    ],
)
def test_the_rule_of_pure_imports_sees_what_breaks_it(name, source, found):
    assert strangers(name, source) == found


@pytest.mark.parametrize(
    ("name", "source", "found"),
    [
        ("recipes.views", "from classes import models", {"classes.models"}),
        ("recipes.views", "import handouts", {"handouts"}),
        ("recipes.views", "from recipes import models", set()),
        (
            "classes.views.plan",
            "from handouts.press.render import pdf",
            {"handouts.press.render.pdf"},
        ),
        ("classes.views.plan", "from recipes import selectors", set()),
        ("handouts.views", "from classes import selectors", set()),
        ("classes.views", "from house.access import is_owner", {"house.access.is_owner"}),
        ("handouts.views", "import house", {"house"}),
        ("house.views", "from classes import selectors", set()),
        ("handouts.views", "def f():\n    from weasyprint import HTML", {"weasyprint.HTML"}),
        ("handouts.press.render", "def f():\n    from weasyprint import HTML", set()),
        ("handouts.press.render", "from handouts.press.fetcher import StaticFetcher", set()),
        ("handouts.press.fetcher", "from weasyprint.urls import URLFetcher", set()),
        ("handouts.press.fetcher", "from weasyprint import HTML", {"weasyprint.HTML"}),
        ("handouts.views", "from handouts.press.fetcher import X", {"handouts.press.fetcher.X"}),
    ],
)
def test_the_rule_of_the_apps_sees_what_breaks_it(name, source, found):
    assert forbidden(name, source) == found


def test_the_rule_of_filters_sees_what_breaks_it():
    line = "from recipes.templatetags.amounts import grams"
    assert tags("handouts.labels.tubs", line) == {"recipes.templatetags.amounts.grams"}
    assert tags("handouts.labels.tubs", "from wording.masses import grams") == set()


@pytest.mark.parametrize(
    ("name", "source", "found"),
    [
        ("recipes.models", "from recipes import selectors", {"recipes.selectors"}),
        ("recipes.models.recipes", "from .. import services", {"recipes.services"}),
        ("classes.models.kitchen", "from classes.views import x", {"classes.views.x"}),
        ("classes.models.kitchen", "from ..services import x", {"classes.services.x"}),
        ("recipes.models", "from django.views import View", set()),
        ("recipes.models", "from recipes.core import formula", set()),
    ],
)
def test_the_rule_of_models_sees_what_breaks_it(name, source, found):
    assert callers(name, source) == found


@pytest.mark.parametrize(
    "source",
    [
        "x = 0.5",
        "x = -1e3",
        "x = 2j",
        "x = float(2)",
        "x = datetime.now()",
        "x = date.today()",
        "open('x')",
        "print(1)",
        "x = __import__('os')",
    ],
)
def test_the_rule_of_pure_code_sees_what_breaks_it(source):
    assert len(impurities(source)) == 1


@pytest.mark.parametrize(
    ("name", "source", "found"),
    [
        (PLANNING, "from math import ceil, sin", {"math.sin"}),
        (f"{BAKING}.pans.packing", "import math", {"math"}),
        (f"{BAKING}.pans.packing", "from math import lcm", set()),
        (GEOMETRY, "from math import cos, sin", set()),
    ],
)
def test_the_rule_of_floats_sees_those_that_come_out_of_math(name, source, found):
    assert floating(name, source) == found


@pytest.mark.parametrize("source", ["x = Decimal('0.5')", "x: float | None = None", "x = 5 / y"])
def test_the_rule_of_pure_code_lets_the_rest_be(source):
    assert impurities(source) == []
