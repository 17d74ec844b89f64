from desk.paper.hand_over import HandOverGroup, write_hand_over
from tests.paper.made import hand_over, pages, pdf, places, row


def test_groups_rows_and_sums_stand_on_it():
    content = hand_over(2, 1, signature="handed over by", notes=("Prices of 2026-07-12.",))
    ((width, height, text),) = pages(pdf(write_hand_over, content))
    assert (width, height) == (612, 792)
    for words in ("Hand-over", "Wednesday 2026-07-15", "Group 1", "Group 2", "2 pieces", "1 pieces", "3 pieces"):
        assert words in text
    for words in ("1000", "1001", "2000", "Buyer 1001", "Duluth MN", "0.78", "handed over by", "Prices of 2026"):
        assert words in text


def test_a_long_group_goes_on_with_its_heading_and_heads():
    found = [page[2] for page in pages(pdf(write_hand_over, hand_over(100)))]
    assert len(found) == 3
    for number, text in enumerate(found, 1):
        assert "Group 1" in text
        assert "postage" in text
        assert f"page {number}" in text
        assert "Wednesday 2026-07-15" in text
    assert sum(f"Buyer {1000 + number}" in "".join(found) for number in range(100)) == 100


def test_nothing_runs_over_the_foot():
    for count in range(30, 45):
        document = pdf(write_hand_over, hand_over(count, 3, signature="signed"))
        for number in range(len(pages(document))):
            assert min(box[1] for box in places(document, number)) >= 25


def test_an_empty_group_is_left_out():
    assert "Group 2" not in pages(pdf(write_hand_over, hand_over(1, 0, 1)))[0][2]


def test_long_names_are_cut_with_dots_and_keep_clear_of_the_place():
    long = row(
        1, order="112-3456789-1234567-99", recipient="A name of very many parts " * 4, mark="9400 1234 5678 9012"
    )
    group = HandOverGroup(heading="One", rows=(long,), total="1 piece")
    boxes = places(pdf(write_hand_over, hand_over(groups=(group,))))
    name = next(box for box in boxes if "…" in box[4])
    place = next(box for box in boxes if "Duluth" in box[4])
    assert name[2] < place[0]
    assert max(box[2] for box in boxes) <= 612 - 44
