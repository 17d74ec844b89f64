"""The virtual scale on its own clock: what it displays, and its script."""

from decimal import Decimal
from types import SimpleNamespace

import pytest

from desk.scales.drivers.presets import read_lines
from desk.scales.simulated import scale as virtual
from desk.scales.simulated.scale import Player, ScriptError, VirtualScale, read_script


class Bench:
    def __init__(self, script):
        self.now, self.sent, self.slept = 0.0, [], []
        self.player = Player(VirtualScale(), self.sent.append, lambda: self.now, self.sleep)
        self.went_on = self.player.play(read_script(script))

    def sleep(self, seconds):
        self.slept.append(seconds)
        self.now += seconds

    @property
    def readings(self):
        return read_lines("status-prefixed", b"".join(self.sent))


def test_a_placement_bounces_and_comes_to_rest():
    got = Bench("wait 1\nplace 4.2\nwait 2").readings
    assert len(got) == 30
    assert {reading.value for reading in got[:11]} == {Decimal(0)}
    assert [reading.state.value for reading in got[11:14]] == ["moving"] * 3
    assert (got[-1].value, got[-1].state) == (Decimal("4.20"), "stable")


def test_swapping_changes_the_weight_and_lifting_empties_the_pan():
    got = Bench("place 4.2\nwait 1\nswap 3.1\nwait 1\nlift\nwait 1").readings
    assert [got[place].value for place in (9, 19, 29)] == [Decimal("4.20"), Decimal("3.10"), Decimal(0)]
    assert min(reading.value for reading in got[1:20]) > 2  # never empty in between


def test_a_trembling_hand_varies_the_weight():
    got = Bench("place 4\nwait 1\nhand 3 2\nwait 1").readings
    pressed = {reading.value for reading in got[10:30]}
    assert len(pressed) > 3
    assert all(6 < value < 8 for value in pressed)
    assert got[-1].value == Decimal("4.00")


def test_overload_and_a_unit_key_are_played():
    got = Bench("place 40\nwait 1\nover 0.3\nunit g\nwait 1").readings
    assert [reading.state.value for reading in got[10:13]] == ["over"] * 3
    assert (got[13].state, got[-1].unit, got[-1].value) == ("moving", "g", Decimal(40))


def test_below_zero_has_a_sign():
    assert Bench("place -2\nwait 1").readings[-1].value == Decimal("-2.00")


def test_silence_junk_and_split_lines_are_played():
    bench = Bench("silence 2\njunk 8\nwait 0.2\nsplit 4\nwait 0.1")
    assert bench.slept[0] == 2.0
    assert [reading.state.value for reading in bench.readings] == ["refused", "moving", "moving"]
    assert {len(piece) for piece in bench.sent[2:]} == {4, 3}
    assert bench.went_on


def test_unplugging_ends_the_script():
    bench = Bench("unplug\nwait 1")
    assert (bench.sent, bench.went_on) == ([], False)


def test_comments_and_empty_lines_are_skipped():
    assert read_script("# nothing\n\n place 4.2 # a parcel\n") == (("place", "4.2"),)


@pytest.mark.parametrize("line", ["dance", "place", "place four", "place nan", "lift 3", "unit stone", "hand 3"])
def test_an_error_in_a_script_names_its_line(line):
    with pytest.raises(ScriptError, match="line 2"):
        read_script(f"wait 1\n{line}\n")


def test_the_command_reports_an_error_in_a_script(tmp_path, capsys):
    script = tmp_path / "script"
    script.write_text("dance\n")
    with pytest.raises(SystemExit) as end:
        virtual.main(["--pty-link", str(tmp_path / "link"), "--script", str(script)])
    assert end.value.code == 1
    assert "line 1" in capsys.readouterr().err


def test_the_command_plays_a_script_and_removes_the_link(tmp_path):
    script, link = tmp_path / "script", tmp_path / "link"
    script.write_text("place 4.2\nwait 0.1\n")
    assert virtual.main(["--pty-link", str(link), "--script", str(script), "--rate", "50"]) == 0
    assert not link.is_symlink()


def test_data_nobody_reads_does_not_block_the_virtual_scale(tmp_path):
    terminal = virtual.Terminal(tmp_path / "link")
    for _ in range(40):
        terminal.send(b"x" * 1000)
    assert (tmp_path / "link").exists()
    terminal.pull()


def test_under_manual_control_the_scale_follows_commands_and_keeps_sending():
    bench = Bench("wait 0.5")

    def lines():
        yield "place 4.2\n"
        yield "what is this\n"
        yield "wait 2\n"

    bench.player.obey(lines())
    assert (bench.readings[-1].value, bench.readings[-1].state) == (Decimal("4.20"), "stable")


def test_under_manual_control_unplugging_ends_the_scale():
    bench = Bench("")
    bench.player.obey(["wait 0.2\n", "unplug\n", "wait 5\n"])
    assert len(bench.readings) < 50


def test_another_step_can_be_set():
    scale = VirtualScale(steps={"oz": Decimal("0.1"), "g": Decimal(1)})
    scale.put(4.26, -10)
    assert b"+    4.3,oz" in scale.line(0.0)


def test_time_can_be_accelerated():
    import argparse
    import time

    chosen = argparse.Namespace(rate=10.0, seed=1, step=Decimal("0.1"), speed=50.0, preset="status-prefixed")
    sent = []
    terminal = SimpleNamespace(send=sent.append, asked=bytes)
    began = time.monotonic()
    virtual._player(chosen, terminal).talk(5.0)
    assert (len(sent), time.monotonic() - began < 2.0) == (50, True)
