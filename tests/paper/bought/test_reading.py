"""Broken, locked, empty, endless and noisy PDFs end in a sentence; a crash never closes the window."""

import os
import subprocess
import sys
import time
from contextlib import suppress
from io import BytesIO

import pypdfium2
import pytest
from pypdf import PdfReader, PdfWriter
from pypdf.generic import DictionaryObject, NameObject, TextStringObject
from reportlab.pdfgen.canvas import Canvas

from desk.paper.bought import reading
from desk.paper.bought.reading import CannotRead, read_labels
from tests.paper.bought.made import Parcel, write_labels_like

ONE = write_labels_like([Parcel("ADA QUIST", "41 HARBOR RD", "DULUTH MN", "55804", "1047-1", "2 lb", 1)], "plain")


def locked():
    out, writer = BytesIO(), PdfWriter(clone_from=PdfReader(BytesIO(ONE)))
    writer.encrypt("secret")
    writer.write(out)
    return out.getvalue()


def pages(count):
    out = BytesIO()
    canvas = Canvas(out, pagesize=(288, 432))
    for _ in range(count):
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def empty():
    out, document = BytesIO(), pypdfium2.PdfDocument.new()
    document.save(out)
    return out.getvalue()


def huge():
    out = BytesIO()
    canvas = Canvas(out, pagesize=(14_000, 14_000))
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def active():
    """Return a page with a script that runs on opening and a form."""
    out, writer = BytesIO(), PdfWriter(clone_from=PdfReader(BytesIO(ONE)))
    script = {"/S": NameObject("/JavaScript"), "/JS": TextStringObject("app.alert('hello'); while (true) {}")}
    writer.root_object[NameObject("/OpenAction")] = DictionaryObject(
        {NameObject(key): value for key, value in script.items()}
    )
    writer.write(out)
    return out.getvalue()


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"", "is not a PDF, or it is damaged."),
        (b"no pdf at all", "is not a PDF, or it is damaged."),
        (ONE[: len(ONE) // 2], "is not a PDF, or it is damaged."),
        (locked(), "is locked with a password. Save it without one."),
        (empty(), "is not a PDF, or it is damaged."),
        (pages(1001), "has 1001 pages. At most 1000 can be read at once."),
        (huge(), "has a page of 194 × 194 in, which is not a label."),
    ],
    ids=["empty", "text", "cut", "locked", "no-pages", "endless", "huge"],
)
def test_an_unreadable_file_is_refused_with_a_sentence(tmp_path, content, sentence):
    file = tmp_path / "labels.pdf"
    file.write_bytes(content)
    with pytest.raises(CannotRead, match=f"^labels.pdf {sentence}$"):
        read_labels(file)


def test_missing_and_oversized_files_are_refused_with_a_sentence(tmp_path, monkeypatch):
    with pytest.raises(CannotRead, match=r"Can't open gone\.pdf"):
        read_labels(tmp_path / "gone.pdf")
    (tmp_path / "large.pdf").write_bytes(ONE)
    monkeypatch.setattr(reading, "MOST_BYTES", 10)
    with pytest.raises(CannotRead, match=r"large\.pdf is too large"):
        read_labels(tmp_path / "large.pdf")


def test_noise_and_active_content_do_no_harm(tmp_path):
    noisy = tmp_path / "noise.pdf"
    noisy.write_bytes(ONE[:400] + os.urandom(3000) + ONE[400:])
    with suppress(CannotRead):
        read_labels(noisy)
    file = tmp_path / "active.pdf"
    file.write_bytes(active())
    (found,) = read_labels(file)
    assert "1047-1" in found.text


def test_blank_pages_have_no_label(tmp_path):
    file = tmp_path / "blank.pdf"
    file.write_bytes(pages(3))
    assert read_labels(file) == ()


def test_reading_a_file_that_takes_too_long_is_canceled(tmp_path):
    file = tmp_path / "labels.pdf"
    file.write_bytes(ONE)
    began = time.monotonic()
    with pytest.raises(CannotRead, match="takes too long"):
        read_labels(file, seconds=0.05)
    assert time.monotonic() - began < 5


def limits_hold():
    """Whether this system keeps a process within its memory limit; some sandboxes ignore the limit."""
    words = "import resource; resource.setrlimit(resource.RLIMIT_AS, (90_000_000,) * 2); bytearray(400_000_000)"
    return subprocess.run([sys.executable, "-c", words], capture_output=True, check=False).returncode != 0


@pytest.mark.skipif(os.name != "posix" or not limits_hold(), reason="this system does not keep memory limits")
def test_a_second_process_without_memory_is_reported_in_a_sentence(tmp_path, monkeypatch):
    file = tmp_path / "labels.pdf"
    out = BytesIO()
    canvas = Canvas(out, pagesize=(2800, 2800))  # 62 MB as an image
    canvas.line(0, 0, 2800, 2800)
    canvas.save()
    file.write_bytes(out.getvalue())
    assert len(read_labels(file)) >= 1
    monkeypatch.setattr(reading, "MEMORY", 60_000_000)
    with pytest.raises(CannotRead, match=r"^labels.pdf "):
        read_labels(file)


@pytest.mark.parametrize("answer", ["", "Segmentation fault", '{"labels": '])
def test_a_crash_of_the_second_process_is_reported_in_a_sentence(tmp_path, monkeypatch, answer):
    file = tmp_path / "labels.pdf"
    file.write_bytes(ONE)
    fallen = subprocess.CompletedProcess([], -11, stdout=answer, stderr="")
    monkeypatch.setattr(reading.subprocess, "run", lambda *_words, **_named: fallen)
    with pytest.raises(CannotRead, match="is damaged or needs too much memory"):
        read_labels(file)
