import pytest

from desk.session.papers.kinds import Paper
from desk.session.papers.making import MadePaper
from desk.session.papers.saving import cannot_write, save_paper

MADE = MadePaper(Paper.SLIPS, b"%PDF new", (("1-1",),))


def test_a_missing_folder_is_created_and_an_old_file_replaced(tmp_path):
    file = tmp_path / "new folder" / "slips.pdf"
    for content in (b"old", b"%PDF new"):
        save_paper(MadePaper(Paper.SLIPS, content, ()), file)
        assert file.read_bytes() == content
    assert [one.name for one in file.parent.iterdir()] == ["slips.pdf"]


def test_a_document_that_cannot_be_written_leaves_the_old_file_and_gives_a_sentence(tmp_path):
    file = tmp_path / "slips.pdf"
    save_paper(MADE, file)
    with pytest.raises(OSError, match=r"slips\.pdf") as caught:
        save_paper(MADE, file / "below.pdf")
    assert cannot_write("x.pdf", caught.value).endswith(". Choose another folder.")
    assert file.read_bytes() == MADE.pdf
