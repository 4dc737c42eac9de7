"""A tool that cannot be is a problem with its line and column, never a traceback later."""

from __future__ import annotations

import pytest

from lapwright.errors import JobProblems
from lapwright.site.read import read_job
from lapwright.words import Speaker

JOB = '[job]\nname="x"\n[roof]\npitch="6:12"\neave=240\nslope=180\n[panel]\ncoverage=18\nrib_height=1.5\n'


def problems(*rows: str) -> list[str]:
    with pytest.raises(JobProblems) as caught:
        read_job(JOB + "".join(f"[[tool]]\n{row}\n" for row in rows), "J.toml")
    return list(caught.value.lines(Speaker()))


# The first [[tool]] stands on line 10; its name on 11, like on 12, the rest from 13.
@pytest.mark.parametrize(
    ("row", "says"),
    [
        ('name="a"\nlike="seamers"\nthroat=9',
         "J.toml:13:1: tool[1].throat: a tool like seamers has no such number; it has width, depth, least, length, "
         "most_deg"),
        ('name="a"\nlike="straight-folder"\nfingers=[1]',
         "J.toml:13:1: tool[1].fingers: a tool like straight-folder has no such number; it has length, throat, land, "
         "grip, nose_deg, opening"),
        ('name="seamers"\nlike="box-folder"',
         "J.toml:12:6: tool[1].like: box-folder is given for a tool named seamers; a tool with the name of a "
         "packaged one must be like it, seamers is allowed"),
        ('name="a"\nlike="straight-folder"\nlength=0',
         "J.toml:13:8: tool[1].length: 0\" is given; a folder of 1\" or more is allowed"),
        ('name="a"\nlike="straight-folder"\nthroat=1\ngrip=2',
         "J.toml:13:8: tool[1].throat: the throat of 1\" is shorter than the 2\" that the beam must hold; a throat "
         "as deep or deeper is allowed"),
        ('name="a"\nlike="box-folder"\nfingers=[3, 49]',
         "J.toml:13:9: tool[1].fingers: a finger of 49\" is wider than the folder of 48\"; fingers up to its length "
         "are allowed"),
        ('name="a"\nlike="box-folder"\nlength=12',
         "J.toml:13:8: tool[1].length: a finger of 15\" is wider than the folder of 12\"; fingers up to its length "
         "are allowed"),
        ('name="a"\nlike="box-folder"\nfinger_depth=0.25',
         "J.toml:13:14: tool[1].finger_depth: 1/4\" is given; fingers 1/2\" deep or more are allowed"),
        ('name="a"\nlike="seamers"\nleast=2',
         "J.toml:13:7: tool[1].least: jaws 1-1/4\" deep cannot hold a flange of 2\" at least; a depth as great or "
         "greater is allowed, or 0 for any"),
        ('name="a"\nlike="hammer"', "J.toml:12:6: tool[1].like: \"hammer\" is given; did you mean seamers? Allowed "
         "are straight-folder, box-folder, bench-folder, seamers, seamers-and-bar, joggle-bars"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_said_at_its_place(row: str, says: str) -> None:
    assert problems(row) == [says]


def test_two_tools_of_one_name_are_told() -> None:
    found = problems('name="a"\nlike="seamers"', 'name="a"\nlike="seamers"')
    assert found == ["J.toml:14:6: tool[2].name: the name a is taken by tool 1; each tool needs its own"]


def test_what_just_holds_together_is_read() -> None:
    rows = (
        'name="a"\nlike="straight-folder"\nlength=1\nthroat=2\ngrip=2',
        'name="b"\nlike="box-folder"\nlength=15\nfinger_depth=0.5',
        'name="c"\nlike="seamers"\nleast=1.25',
        'name="d"\nlike="seamers"\nleast=2\ndepth=0',
        'name="seamers"\nlike="seamers"',
    )
    assert len(read_job(JOB + "".join(f"[[tool]]\n{row}\n" for row in rows), "J.toml").tools) == 5
