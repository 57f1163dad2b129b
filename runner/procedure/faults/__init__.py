"""Every fault that loading a procedure can report. Invariant: a finding without a row here cannot be made, and each row has a bad document."""

from runner.procedure.faults.formulas import FORMULA_FAULTS
from runner.procedure.faults.fragments import FRAGMENT_FAULTS
from runner.procedure.faults.names import NAME_FAULTS
from runner.procedure.faults.paths import PATH_FAULTS
from runner.procedure.faults.row import FaultRow
from runner.procedure.faults.scenarios import SCENARIO_FAULTS
from runner.procedure.faults.shapes import SHAPE_FAULTS
from runner.procedure.faults.steps import STEP_FAULTS
from runner.procedure.faults.texts import TEXT_FAULTS

FAULTS: dict[str, FaultRow] = {
    row.rule: row
    for rows in (
        TEXT_FAULTS,
        SHAPE_FAULTS,
        FRAGMENT_FAULTS,
        NAME_FAULTS,
        FORMULA_FAULTS,
        PATH_FAULTS,
        STEP_FAULTS,
        SCENARIO_FAULTS,
    )
    for row in rows
}
"""By rule, in the order of the reference."""
