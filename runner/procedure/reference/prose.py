"""What the reference says in sentences: how a procedure means, how it is written down, how formulas are read.

The tables say what there is; this says how it hangs together. Each text is Markdown.
"""

OPENING = """\
# Writing procedures

This page is all that a process engineer needs to write a procedure, and it is derived from the tables that the
program itself reads (`python -m runner.procedure.reference`); do not edit it by hand.

A procedure is a text file `*.procedure.yaml`. The program leads people through it step by step at a terminal beside
the press, stops where a release is needed, works the arithmetic out from the job ticket, and keeps a record. **It
is an aid. It is no lockout, no interlock and no load limiter; local codes, manuals and licensed practice come
first.** What the screen shows about the press is what people have confirmed, never more.

Check a file while you write it:

    changeover lint NAME.procedure.yaml

Lint reads the text, checks every name, unit and formula, and walks the steps by the runner's own rules of order, every
way that they allow: each `when` both ways where some allowed job has it so, troubles, steps left out or done once more,
lists side by side in every mixing, with steps that overlap. A need that nobody meets, a state left wrong at the end or a
hold that nobody may release is a finding, with the shortest way to it. Going back, corrections and what somebody says
after having looked are left to the engine, which refuses what needs they break.

Every finding has a file, a line and a column, and says what to do; one inside a fragment also says where the fragment
is used. A warning or a note that is meant to stay is silenced by a comment with the rule and a reason, at the end of
its line or alone on a line above it; an error, and a warning about safety, is silenced by nothing:

    do: Turn the knob slowly.   # lint: allow vague-words, the knob has one speed

More commands that help:

    changeover rules                                 all that lint looks for
    changeover explain RULE                          more about one of them, with a wrong and a right text
    changeover work NAME.procedure.yaml --set N=V    the arithmetic alone; --sweep N=A..B as table and plot, --worst, --paths
    changeover diff OLD NEW                          what changed in meaning, and what became weaker
    changeover simulate NAME.procedure.yaml          whole runs with random jobs and troubles, and what none ever reached
    changeover schedule NAME.procedure.yaml          the best order for one person and for two, from the times of the steps

Editors that know JSON Schema complete keys and show their words when the file begins with this line:

    # yaml-language-server: $schema=../schemas/procedure.schema.json

A way to write one: name the people and the phases; write the steps as orders, one act each; say what each needs and
makes and name those states; put in cautions and holds where somebody can get hurt; then inputs and calculations;
then what may go wrong and the way on. Run lint after each of these.

Contents: [the smallest procedure](#the-smallest-procedure) · [a whole procedure](#a-whole-procedure) ·
[what a procedure means](#what-a-procedure-means) · [how it is written](#how-it-is-written) · [all keys](#all-keys) ·
[formulas](#formulas) · [units](#units) · [slots](#slots-in-instructions) · [fragments](#fragments) ·
[jobs](#job-files) · [answers](#answers-files) · [approving](#approving-a-text) · [faults](#faults)
"""

SMALLEST_TEXT = """\
format: 1
id: wipe-idlers
title: Wipe the idlers
revision: 1
equipment: Line 3, unwind
purpose: The idlers are clean
people: {unwind: Operator}
phases:
  - phase: Wipe
    steps:
      - {id: wipe, do: Wipe every idler of the unwind.}
"""

WHOLE = """\
## A whole procedure

Nearly every word of the language is in it. It stands in two files. Press and people are invented, as everywhere in
this folder, which holds longer procedures to read.
"""

MEANING = """\
## What a procedure means

**Order.** Phases are done one after the other. A phase has one list of `steps`, or lists side by side under
`together`, one a role; it ends when all its lists have ended. Within a list one step is done at a time, from top to
bottom. People call a step by its number: phase, dot, place (`2.4`), and in lists side by side also the list's
letter (`3a.1`).

**A step** is one act of one person. It comes up, its `cautions` are read, its `hold` is released, it is begun, what
it asks is answered, and it is done. Begun and done are different things, and the record has both. `when` is looked
at when the step comes up: where it is false the step is passed over, on record. A caution is a field and is shown
before the act; do not write it into `do`.

**States** are what the runner knows about the press: `unwind_guard` is `open` or `closed`, or unknown. Unknown
never meets a need. `needs` must be met from the moment a step begins until it is done. When a step begins, the
states that it `makes` become unknown; when it is done they have their new value. A step is not begun while its
`makes` would touch a state that a step in progress in the other list needs or makes, nor while that step makes what it
needs. A state that a step needs and makes is checked when it begins. It is unknown after a trouble of that step, so
the step does not begin again until somebody has looked: where there is a trouble that leads back, write a need of
another state instead.

**one_owner.** From the step that takes such a state out of its first value until one brings it back, only the list
that took it may begin steps that need or make it: two people do not share one crane.

**Hold.** The run stops before the step. Somebody of the role under `release`, and not the person who does the step,
ticks every confirmation. A hold is released only while what the step needs holds. Each attempt of the step needs its
own release, and a release falls when a state that the step needs changes before the step is done, and when the run
is resumed after a pause or an interruption.

**Asks.** A step may ask for readings, choices, scans, a threading, a feed and a wait; they come in this order:
`read`, `choose`, `scan`, `thread`, `advance`, `wait`, each map in the order written. A value is never filled in
beforehand. What is answered is a value for formulas, limits and slots of all later steps of the same list and of
all later phases (and for the later asks, the `repeat` and the troubles of its own step). A step whose value was never
asked for does not begin: where the step that asks has a `when`, is `optional` or has a trouble with `then: go_on`,
put the steps that use its value under the same `when`, or ask in a step that is always done.

**Out of limits.** A value out of limits, a choice that is not accepted or a scan that does not match is asked for
once more; the second such answer leads to the trouble that `else` names, and a slot of that trouble's `do` shows it,
although it does not count. Where there is no `else`, an exception goes on record, and the step waits for a better
answer or for somebody to meet a trouble. A reading outside `likely` counts when it has been typed twice. An input
outside `likely` is marked for whoever begins the run, and not asked for twice.

**Corrections.** An answer that was wrong is corrected with a reason by the one who does its step. The old answer stays
on record, and what was worked out from it is worked out again. A correction is refused out of limits, where the step
has a `second` look, since two people answered, and where the step's `repeat` would no longer hold; go back to the step
then.

**Trouble** is what may go wrong in a step. While the step is in progress, whoever meets it picks it by its `sign`
and is told what to `do`. It ends the attempt: what the step makes stays unknown, an exception goes on record, and
the list goes on by the way that the author gave: `back_to` this or an earlier step of the same list (the steps from
there are to be done again), `then: go_on` with the next step, or `then: stop`, which halts the run and shows what
to do to make safe. A run that was stopped so can be resumed, and the step comes up again. Answers of the attempt that
ended do not count. A trouble is named by its `id`, or by its `sign` where it has none, so no two of a step have the
same. With `blocking: true` the run does not finish while that exception is open.

**repeat** does a step again until its condition holds, at most so often; the last time without success counts as
out of limits. Each time is an attempt of its own, with cautions and hold anew. After a trouble the count starts anew.

**optional.** The step may be left out: with a reason, or with the agreement of a role as well. What it makes does
not happen then, so give later needs another way.

**second.** Another person looks before the step ends. `independent`: that person answers without seeing the first
answer; choices must be equal and numbers within 2 % of each other. Where two looks differ, an exception goes on
record, neither answer counts, and the one who does the step answers again, then the second person. `together`: that
person agrees with what both see.

**Going back.** The operator may go back, with a reason, to any earlier step of the list whose needs are met now. It
stays within the list of the phase that is on; an earlier phase is not come back to.
The steps from there are to be done again, their values are stale, and so is what was worked out from them.

**Looked at.** At any time somebody may say what a state is, having looked. It goes on record, as an exception where
it differs. Lint does not count on it: a procedure must work without.

**Pause and stop.** A run may be paused at any time. After it every state that is not marked `keeps: true` is
unconfirmed, which counts as unknown, until somebody has looked. Stopping and making safe is never blocked, not even
by a hold; it shows the `make_safe` list of the phase, or the procedure's.

**Finish** is refused, with a list of what is missing, while a step is open, a state is not at its `at_end`, or a
blocking exception is open.

**Exceptions follow the press.** An exception that is open when its run ends stays open for its `equipment`. The next
live run of any procedure with the same `equipment` carries it: no step of that run begins before somebody has read it
by name. One that blocks (its trouble is `blocking`, or the site file says so of its severity, or, where that says
nothing, it is serious and about people or equipment) keeps every step from beginning until it is closed with words, or
a person of a role that releases holds or pieces in this procedure, and not the one who read it, accepts it for this run
with a reason. Stopping and making safe, noting and closing are never kept back, nor is a step that
brings states only to where a `make_safe` list brings them. Closed in any run it comes no more;
read or accepted it comes again in the run after. Dry and played runs neither leave nor carry any.

**Arithmetic.** A calculation is worked out as soon as all that it uses is known, and shown with its working. Its
`limit` holds before and after `round`, so that rounding hides nothing. A result outside it stops a job before it begins; where it comes from a reading, it goes on record and stops
the steps that use it. Inputs do not change in a run, but for a correction that goes on record.

**Splits.** Pieces are chosen from all that the rack holds so that the ends have the same mass, or differ by no more than
`uneven`, and the sum is closest to what is wanted. Of choices equally close the one with the fewest pieces is taken, and of
those the lighter. At each end the heaviest piece hangs nearest the web. Where none comes within `within`, the split is
out of its limits, as a calculation would be, and the nearest choice is named. With `release` that is a hold instead: every
step that uses the split waits until a person of that role, who does not do the step, has accepted the nearest choice
with a reason. That goes on record, and counts until the split is worked out anew. A mass below nothing, and the limit of a
calculation, nobody accepts.

**Rough checks.** A `rough` check is worked out with its calculation and compared before rounding. Where the two differ by
more than `within`, one of them is wrong: the value is out of its limits.
"""

WRITING = """\
## How it is written

The file is YAML, and less of it than YAML offers. A text gets its meaning from its key: where a text is asked for,
`no`, `010` and `12:30` are texts; where a number is asked for, only a plain decimal number is one. Tags (`!`),
anchors (`&`), aliases (`*`), merge keys (`<<`), `%` directives, a second document, the same key twice, tabs for
indentation and characters that do not show are faults.

Indent with blanks; keys of one map begin in the same column. A short map may stand in braces,
`{ask: Web width, unit: mm}`, and a short list in brackets, `[open, closed]`. **Put a text in quotes when**

- it stands in braces or brackets and holds one of `[ ] { } ,` or a colon: `{formula: "bar_pull / g_n - 3.2 [kg]", unit: kg}`;
- it begins with one of `{ [ > | @ % & * ! " '` or a backtick, as a limit does: `limit: ">= 0 [kg]"`;
- it holds a colon and a blank, or a `#` after a blank: `do: "Note: look round."`, `do: "Take knife #3."`;
- it holds quotes itself: `"bar_factor(unwind, 'tension bar')"`.

A long text may be folded over lines after `>-`. A remark begins with a `#` and a blank.
"""

FORMULAS = """\
## Formulas

A formula is numbers, numbers with a unit in brackets (`3.2 [kg]`), names of values, texts in quotes
(`'kraft paper'`), operators, parentheses and calls of functions. Names in formulas are inputs, calculations, readings,
choices, scans and feeds (the feed of step `thread-unwind` is `thread_unwind_fed`); a split counts as the mass hung.
States are no names in formulas. One name stands for one thing in the whole procedure.

Every value has a dimension, and what is added or compared must have the same one. Numbers are converted by
themselves: `1 [m] + 5 [mm]` is 1.005 m. A mass is never a force: multiply by `g_n` for its weight, divide a force
by `g_n` for the mass that has it. A pressure in `bar` is what a gauge shows; `bar_abs` is absolute. An angle is no
plain number: `rpm` and `1/s` are told apart. A temperature in `degC` is a point on a scale: two of them differ by
`K`, and they are neither added nor multiplied.

A formula has at most 500 characters. Nothing else is there: no attributes, no indices, no other calls.
"""

SLOTS = """\
## Slots in instructions

The `do` of a step and of a trouble may hold slots, and nothing else may:

| slot | shows |
|---|---|
| `{roll_mass}` | the value in its own unit, up to 6 digits: 437.215 kg |
| `{roll_mass:.0f}` | no decimals: 437 kg; `.1f` one decimal, `.3g` three digits in all |
| `{feed: ft}` | in another unit of the same dimension |
| `{feed:.1f ft}` | both |
| `{{` and `}}` | braces |

A choice, scan or text shows as it is. A split shows its pieces at each end, `{bar_pieces}`: 2 x 5 kg + 1 x 1 kg at
each end; with digits or a unit, `{bar_pieces:.1f}`, it shows the mass hung: 22.0 kg. A step is not begun while a value that it
shows is not known. In YAML a `do` with slots
stands in quotes when it begins with a brace or stands in braces itself.
"""

APPROVING = """\
## Approving a text

`status` is `draft` until somebody approves the text. To approve it, write the `approval` block with any 64 digits,
set `status: approved`, run `changeover lint` and copy the digest that the finding prints. The digest is the SHA-256
of the text and of its fragments, with line ends as line feeds; the line of `status` and the lines of `approval` are
left out of it, so approving does not change what is approved. Any other change of the text or of a fragment does,
and lint says so. A live run with a text that is not approved says so on every screen and record.
"""

FRAGMENTS = """\
## Fragments

Steps that serve several places stand in a file `*.fragment.yaml`. A step list takes them in with
`- {use: close-side.fragment.yaml, with: {side: unwind}}`. Anywhere in the fragment's texts and keys `<side>` becomes the
text that is given. The path is relative to the file that uses it, with forward slashes, in the same folder or
below. A fragment may use fragments, at most 5 deep. States, values, people and cautions stand in the procedure,
never in a fragment. Step ids must be unique, so put a parameter into them where a fragment is used twice.
"""

JOBS = """\
## Job files

A job file `*.job.yaml` holds what one job's ticket says, as a person would type it: a number in the input's unit
(`1250`), with a unit of the same dimension (`1.25 m`), a choice or a text. `changeover run PROCEDURE --job FILE`
takes it.
"""

SITE = """\
## Site files

A site file `site.yaml` holds what belongs to a place and not to a procedure: who works there, the pieces that really hang on
its racks, its lifting gear with the last inspection, how far and fast a press may be moved with a guard open, how long work
may go on between two places where it may be interrupted, and when shifts end. Commands that lead through a run, and
`changeover work`, take the one that `--site FILE` names, else the one of `CHANGEOVER_SITE`, else the `site.yaml` beside the folder of
records. `changeover lint` takes the one that `--site FILE` names, else the `site.yaml` beside the procedure. Without one
names are as typed, and every record says "identity not verified".

**The press.** A rack of the site takes the place of the procedure's rack of the same name, in what is worked out and in what lint
proves; the record keeps it, so that a replay works with the same pieces. A step that `lifts` with gear does not begin
live where the load is more than the rating, the inspection is past, or the gear is not listed; a run that would stop there does
not begin. It is a check of what somebody wrote down, no load limiter: people read the plates and look at the gear all the
same. Whoever is about to leave a place where work may be interrupted is warned where the next such place lies behind the
end of the shift. When a run is opened again, gear and shifts are those of the file as it is then, on record; the pieces
stay those of the beginning.

`changeover lint site.yaml` looks at the file itself: keys, units, days that are past, hashes that are not whole.

**People.** With a site file, in a live run, each listed person gives a PIN: at their first act after the beginning or an interruption, and
every time for the release of a hold, the acceptance of pieces, a second look, a handover, signing on and resuming. The PIN shows
nowhere and is kept nowhere; `changeover site-pin` asks for one and prints its hash for `pin`. A wrong PIN is on record
with the name; after two in a row each further one makes the wait longer, from 5 s to 5 min. Stopping, making safe,
pausing, noting and abandoning wait for no PIN. Roles and qualifications are judged when a role is taken. Names that are
not listed are refused, or allowed with "identity not verified". Dry and played runs ask for no PIN.

Whoever may read the file may try PINs against it without any wait: keep it from others' eyes.
"""

ANSWERS = """\
## Answers files

An answers file `*.answers.yaml` plays a run without a person, for tests and trials:
`changeover run PROCEDURE --job FILE --answers FILE`. A step without an entry is done as written: cautions read, hold released with every
confirmation, rollers ticked, waits kept, second look agreed. A reading, choice, scan or feed is never invented:
without an entry the run stops there, unfinished. The name of a feed is that of the step with `_fed`.

Every attempt of a step takes the next entry of its id: each pass of a `repeat`, and each time that a trouble or going
back leads to it once more. The `crew` takes the place of the job's role by role: a role that it does not name stays
as the job says. For a step that is left out with a role's agreement, that role is played as agreeing. What an entry or
act names must be there in the procedure: a step, an ask of that step, a trouble, a state and its value, a role.
"""
