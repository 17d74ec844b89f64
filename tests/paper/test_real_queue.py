"""Papers through a real print queue: a scheduler for the test with a queue that writes PDF.

Skipped where CUPS is not installed (`apt-get install cups cups-client`); the summary of `scripts/test` lists it.
"""

import grp
import os
import shutil
import subprocess
import time
from contextlib import suppress
from io import BytesIO
from pathlib import Path

import pypdfium2
import pytest

from desk.domain.finding import Severity
from desk.paper.label.label import write_labels
from desk.paper.press import Press
from desk.paper.spool import Spooler, queues
from desk.session.papers.kinds import Paper
from desk.session.papers.making import MadePaper
from desk.session.papers.printing import print_paper
from tests.paper.codes import codes_on_pages
from tests.paper.made import FONTS, STOCK, label

CUPSD = shutil.which("cupsd") or "/usr/sbin/cupsd"
pytestmark = pytest.mark.skipif(
    not Path(CUPSD).exists() or shutil.which("lpadmin") is None, reason="CUPS is not installed on this computer"
)
LOCATIONS = "".join(f"<Location {path}>\nOrder allow,deny\nAllow all\n</Location>\n" for path in ("/", "/admin"))
POLICY = "<Policy default>\n<Limit All>\nOrder deny,allow\nAllow all\n</Limit>\n</Policy>\n"
# A printer that takes PDF and any page size, as the PostScript Printer Description 4.3 and the CUPS extensions say.
PPD = """*PPD-Adobe: "4.3"
*FormatVersion: "4.3"
*FileVersion: "1.0"
*LanguageVersion: English
*LanguageEncoding: ISOLatin1
*PCFileName: "PDF.PPD"
*Manufacturer: "Test"
*Product: "(Test)"
*ModelName: "Test"
*ShortNickName: "Test PDF"
*NickName: "Test PDF"
*PSVersion: "(3010.000) 0"
*LanguageLevel: "3"
*ColorDevice: False
*DefaultColorSpace: Gray
*cupsFilter2: "application/vnd.cups-pdf application/pdf 0 -"
*OpenUI *PageSize/Media Size: PickOne
*DefaultPageSize: A4
*PageSize A4: "<</PageSize[595 842]>>setpagedevice"
*PageSize Letter: "<</PageSize[612 792]>>setpagedevice"
*CloseUI: *PageSize
*OpenUI *PageRegion: PickOne
*DefaultPageRegion: A4
*PageRegion A4: "<</PageSize[595 842]>>setpagedevice"
*PageRegion Letter: "<</PageSize[612 792]>>setpagedevice"
*CloseUI: *PageRegion
*DefaultImageableArea: A4
*ImageableArea A4: "0 0 595 842"
*ImageableArea Letter: "0 0 612 792"
*DefaultPaperDimension: A4
*PaperDimension A4: "595 842"
*PaperDimension Letter: "612 792"
*MaxMediaWidth: "2000"
*MaxMediaHeight: "2000"
*HWMargins: 0 0 0 0
*CustomPageSize True: "pop pop pop <</PageSize[5 -2 roll]>>setpagedevice"
*ParamCustomPageSize Width: 1 points 36 2000
*ParamCustomPageSize Height: 2 points 36 2000
*ParamCustomPageSize WidthOffset: 3 points 0 0
*ParamCustomPageSize HeightOffset: 4 points 0 0
*ParamCustomPageSize Orientation: 5 int 0 0
"""


def wait_for(found, seconds=20.0):
    """Wait until `found` is true; fail after the time limit."""
    end = time.monotonic() + seconds
    while not found():
        assert time.monotonic() < end, "the print queue did not get there in time"
        time.sleep(0.05)


@pytest.fixture(scope="module")
def scheduler(tmp_path_factory):
    """A CUPS scheduler on its own socket, with a queue `label` that writes its output to `out.pdf`."""
    home = Path("/tmp") / f"tare-cups-{os.getpid()}"  # short, since a socket's path may have 107 characters
    for name in ("etc/ppd", "spool/tmp", "cache", "state", "log"):
        (home / name).mkdir(parents=True)
    user = ""
    if os.geteuid() == 0:
        with suppress(KeyError):
            group = grp.getgrnam("lp").gr_gid
            user = "User lp\nGroup lp\n"
            for path in (home, *home.rglob("*")):
                os.chown(path, -1, group)
                path.chmod(0o770)
    (home / "cupsd.conf").write_text(
        f"Listen {home}/s\nBrowsing No\nWebInterface No\nDefaultAuthType None\n{LOCATIONS}{POLICY}"
    )
    (home / "files.conf").write_text(
        f"{user}ServerRoot {home}/etc\nRequestRoot {home}/spool\nTempDir {home}/spool/tmp\nCacheDir {home}/cache\n"
        f"StateDir {home}/state\nAccessLog {home}/log/a\nErrorLog {home}/log/e\nPageLog {home}/log/p\nFileDevice Yes\n"
    )
    (home / "pdf.ppd").write_text(PPD)
    running = subprocess.Popen(
        [CUPSD, "-f", "-c", str(home / "cupsd.conf"), "-s", str(home / "files.conf")],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    before = os.environ.get("CUPS_SERVER")
    os.environ["CUPS_SERVER"] = f"{home}/s"
    try:
        wait_for(lambda: (home / "s").exists() and lp("lpstat", "-r").returncode == 0)
        out = home / "out.pdf"
        done = lp("lpadmin", "-p", "label", "-E", "-v", f"file:{out}", "-P", str(home / "pdf.ppd"))
        assert done.returncode == 0, done.stderr
        yield out
    finally:
        running.terminate()
        running.wait(10)
        if before is None:
            del os.environ["CUPS_SERVER"]
        else:
            os.environ["CUPS_SERVER"] = before
        shutil.rmtree(home, ignore_errors=True)


def lp(*words):
    return subprocess.run(words, capture_output=True, text=True, check=False)


def made(stock, count=3):
    """Return labels on a stock, as the session makes them."""
    out = BytesIO()
    records = write_labels([label(str(1047 + number)) for number in range(count)], out, Press(FONTS, stock=stock))
    pages = tuple(tuple(record.references) for record in records)
    return MadePaper(Paper.LABELS, out.getvalue(), pages, size=stock.page)


def printed(file):
    """Return the page sizes of the output, and its codes."""
    document = pypdfium2.PdfDocument(file.read_bytes())
    sizes = [document.get_page_size(number) for number in range(len(document))]
    document.close()
    return sizes, list(codes_on_pages(file.read_bytes()))


@pytest.mark.parametrize("stock", ["roll-4x6", "roll-4x2", "roll-100x150", "letter", "a4"])
def test_the_output_has_the_expected_size_pages_and_codes(scheduler, stock):
    scheduler.unlink(missing_ok=True)
    paper = made(STOCK[stock])
    result = print_paper(paper, "label")
    assert (result.mark, result.words) == (Severity.FINE, "Printed on label.")
    sizes, codes = printed(scheduler)
    assert len(sizes) == paper.pages
    for size in sizes:
        assert size == pytest.approx(STOCK[stock].page, abs=1.0)
    assert [code for page in codes for code in page] == ["1047-1", "1048-1", "1049-1"]


def test_after_a_jam_printing_continues_from_a_page(scheduler):
    scheduler.unlink(missing_ok=True)
    assert print_paper(made(STOCK["roll-4x6"]), "label", 2).handed == ("1048-1", "1049-1")
    assert printed(scheduler)[1] == [("1048-1",), ("1049-1",)]


def test_a_paused_queue_gets_no_job_until_it_is_resumed(scheduler):
    scheduler.unlink(missing_ok=True)
    lp("cupsdisable", "label")
    result = print_paper(made(STOCK["roll-4x6"]), "label")
    assert (result.mark, result.handed) == (Severity.LOOK, ())
    assert result.words == "label is paused. Nothing was printed. Start the printer and print again."
    lp("cupsenable", "label")
    assert not scheduler.exists()
    assert lp("lpstat", "-o", "label").stdout == ""
    assert print_paper(made(STOCK["roll-4x6"]), "label").taken


def test_a_queue_that_accepts_no_jobs_is_reported_with_a_sentence(scheduler):
    lp("cupsreject", "label")
    result = print_paper(made(STOCK["roll-4x6"]), "label")
    lp("cupsaccept", "label")
    assert (result.mark, result.handed) == (Severity.STOP, ())
    assert result.words.startswith("label refused it: ")


def test_a_queue_that_vanished_is_named(scheduler):
    assert queues(Spooler()) == ["label"]
    result = print_paper(made(STOCK["roll-4x6"]), "gone")
    assert (result.words, result.handed) == ("Printer “gone” is gone. Choose another.", ())
