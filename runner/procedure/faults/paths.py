"""Faults of web paths: what is said of a roller does not go together."""

from runner.procedure.faults.row import ERROR, FaultRow

PATH_FAULTS = (
    FaultRow(
        "travel-without-moves",
        ERROR,
        "A roller has a travel, and no direction in which it moves.",
        "Nobody knows where the ends of its travel are.",
        "{roller: bar, at: [1 m, 1 m], diameter: 120 mm, pass: under, travel: [-150 mm, 200 mm]}",
        "{roller: bar, at: [1 m, 1 m], diameter: 120 mm, pass: under, moves: vertical, travel: [-150 mm, 200 mm]}",
    ),
    FaultRow(
        "travel-beside-roller",
        ERROR,
        "The place where a roller is drawn does not lie on its travel, or the ends are not in order.",
        "One of the two is wrong, and with it every length and pull that follows.",
        "travel: [100 mm, 300 mm]",
        "travel: [-100 mm, 200 mm]",
    ),
)
