import pytest

from desk.session.papers.kinds import EMPTY, NOTED_AS, TITLES, Paper


@pytest.mark.parametrize("paper", Paper)
def test_every_document_has_a_name_a_title_a_file_and_a_sentence_when_empty(paper):
    assert TITLES[paper] == paper.words[:1].upper() + paper.words[1:]
    assert paper.file_name.endswith(".pdf")
    assert EMPTY[paper].endswith(".")
    assert (paper in NOTED_AS) is (paper is not Paper.HAND_OVER)  # a hand-over sheet belongs to no piece


def test_files_keep_the_names_that_a_run_writes():
    # source: the headless reference, "Results"
    assert [paper.file_name for paper in Paper] == [
        "labels.pdf", "slips.pdf", "packing-slips.pdf", "keying-sheets.pdf", "hand-over.pdf",
    ]  # fmt: skip
