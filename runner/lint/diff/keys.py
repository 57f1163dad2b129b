"""Keys of the language that mean nothing for a run, each with its reason: a change of them alone is none."""

NO_MEANING: dict[str, str] = {
    "a procedure.format": "there is one version of the language",
    "a procedure.references": "they say what the text rests on, and no run shows them",
    "a fragment.fragment": "there is one version of the language",
    "a fragment.id": "what counts is the steps that a fragment brings",
    "a fragment.title": "what counts is the steps that a fragment brings",
    "a fragment.parameters": "what counts is the steps that a fragment brings",
    "a fragment.steps": "its steps are compared where they stand",
    "a use of a fragment.use": "its steps are compared where they stand",
    "a use of a fragment.with": "its steps are compared where they stand",
}
