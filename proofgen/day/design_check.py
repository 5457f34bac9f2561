"""What the commands do with designs."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from proofgen.day.rows import Options, home_in, shop_of
from proofgen.day.shop import Shop, open_bench, open_design, open_shop
from proofgen.errors import UnusableError
from proofgen.files import write_bytes
from proofgen.flags.flag import Flag
from proofgen.workshop.read import load


def designs(options: Options) -> Shop:
    """The designs there are, with those of the folder that the program is called in."""
    return shop_of(home_in(Path.cwd(), options))


def check_design(
    folder: Path, texts: Mapping[str, str], picture: Path | None, options: Options
) -> tuple[Flag, ...]:
    """What is wrong with a design folder; the picture of a sample, where it is asked for.

    The folder of the maker's own symbols and faces is the one that its folder of designs is in.
    """
    from proofgen.checks.check import check_template, unreadable
    from proofgen.checks.sample import what_can_be_made

    folder = folder.resolve()
    if not folder.is_dir():
        raise UnusableError(f"{folder}: there is no such folder.")
    home = home_in(folder.parents[1], options)
    workshop, bench = load(home.workshop), open_bench(home)
    try:
        template = open_design(folder, home, workshop, bench)
        if folder.parent in home.own("designs"):
            # Its id and title are to be its own.
            fault = open_shop(home).broken.get(folder.name)
            if fault:
                raise UnusableError(fault)
    except UnusableError as error:
        faults = (line.removeprefix(f"{folder}/") for line in str(error).splitlines())
        return tuple(unreadable(fault) for fault in faults)
    unknown = [field for field in texts if field not in template.fields]
    if unknown:
        raise UnusableError(
            f"--text {unknown[0]}=…: the design letters {', '.join(template.fields)}."
        )
    made, flags = check_template(template, texts, workshop, bench)
    if picture:
        from proofgen.proofs.picture import proof_png

        made, said = what_can_be_made(template, made, str(picture), workshop, bench)
        flags = (*flags, *said)
        if made.artwork:
            write_bytes(picture, proof_png(made, workshop))
    return flags
