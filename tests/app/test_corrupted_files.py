"""Files corrupted in many ways: one exact line a fault, exit code 2, no traceback, and nothing written.

A cell of an order list that cannot be read spoils no file: it is a finding of its order, and the run goes on.
"""

import pytest

from tests.app.headless import HEAD, ORDERS, SHOP, WEIGHTS


def likely(field: str, header: str, cells: str) -> str:
    """Return the line that suggests a required column by its cells."""
    return (
        f'orders.csv: line 1, {field}: expected a column for {field}; perhaps {field} = "{header}" ({cells}). '
        f'To use it, put {field} = "{header}" under [columns] in a mapping'
    )


SPOILED = [
    ("orders", ORDERS.replace("order,", "zz,"), [likely("order", "zz", "1, 2")]),
    (
        "orders",
        ORDERS.replace("recipient", "xyz"),
        [likely("recipient", "xyz", "Ada Vell, Cy Bell")],
    ),
    ("orders", ORDERS.replace("country", "qqq"), [likely("country", "qqq", "US")]),
    ("orders", ORDERS.replace(",item,", ",zzz,"), [likely("item", "zzz", "Card")]),
    (
        "orders",
        ORDERS.replace("country", "qqq").replace(",item,", ",zzz,"),
        [
            likely("country", "qqq", "US"),
            likely("item", "zzz", "Card"),
        ],
    ),
    (
        "orders",
        ORDERS.replace("\n1,Ada", "\n,Ada"),
        ["orders.csv: line 2, order: expected an order number; there is no order above this row"],
    ),
    (
        "weights",
        WEIGHTS.replace("0.7,oz", "0.7,"),
        ["weights.csv: line 2, unit: expected a unit: oz, lb, g, kg or lb-oz"],
    ),
    (
        "weights",
        WEIGHTS.replace("0.7,oz", "0.7,stone"),
        ["weights.csv: line 2, unit: 'stone' found, expected a unit: oz, lb, g, kg or lb-oz"],
    ),
    (
        "weights",
        WEIGHTS.replace("0.7", "light"),
        ["weights.csv: line 2, gross: 'light' found, expected a number such as 12.50"],
    ),
    (
        "weights",
        WEIGHTS.replace("0.7", "-0.7"),
        ["weights.csv: line 2, gross: '-0.7' found, expected a number above 0"],
    ),
    ("weights", WEIGHTS.replace("0.7", ""), ["weights.csv: line 2, gross: expected a weight in oz"]),
    ("weights", WEIGHTS.replace("\n1,", "\n,"), ["weights.csv: line 2, order: expected an order number"]),
    ("weights", WEIGHTS.replace("unit", "xx"), ["weights.csv: line 1, unit: expected a column for unit"]),
    (
        "weights",
        WEIGHTS.replace("mailer", "piece").replace("A7", "two"),
        [
            "weights.csv: line 2, piece: 'two' found, expected a whole number of at least 1",
            "weights.csv: line 3, piece: 'two' found, expected a whole number of at least 1",
        ],
    ),
    (
        "weights",
        WEIGHTS.replace("mailer", "division").replace("A7", "0"),
        [
            "weights.csv: line 2, division: '0' found, expected a number above 0",
            "weights.csv: line 3, division: '0' found, expected a number above 0",
        ],
    ),
    (
        "weights",
        WEIGHTS.replace("mailer", "stiff").replace("A7", "perhaps"),
        [
            "weights.csv: line 2, stiff: 'perhaps' found, expected yes or no",
            "weights.csv: line 3, stiff: 'perhaps' found, expected yes or no",
        ],
    ),
    (
        "weights",
        WEIGHTS.replace("mailer", "length").replace("A7", "9"),
        [
            "weights.csv: line 2, width: expected length, width and thickness together, or thickness alone",
            "weights.csv: line 3, width: expected length, width and thickness together, or thickness alone",
        ],
    ),
    (
        "shop",
        SHOP.replace("[policy]", "[policy]\ncolour = 3"),
        [
            "shop.toml: line 10, policy.colour: 'colour' found, expected one of currency, letter_postage, parcel_services, intl_services, parcel_payment, untracked, skip_status, ship_status, stamp_request_phrases, cautious, max_stamps, scale_division, scale_unit, scale_rounds_up, learn_weights, close_call_from, cover_from, label_weight, insert_cost, insert_weight, label_cost"
        ],
    ),
    (
        "shop",
        SHOP.replace('"USD"', "7"),
        ["shop.toml: line 10, policy.currency: '7' found, expected a currency code in quotes, such as \"USD\""],
    ),
    (
        "shop",
        SHOP.replace('"USD"', '"BUCKS"'),
        ["shop.toml: line 10, policy.currency: 'BUCKS' found, expected an ISO 4217 currency code such as USD"],
    ),
    (
        "shop",
        SHOP.replace('"USD"', '"EUR"'),
        ["shop.toml: policy.currency: 'EUR' found, expected USD, the money of the price lists"],
    ),
    (
        "shop",
        SHOP.replace("count = 9", 'count = "nine"', 1),
        ["shop.toml: line 28, stamps.1.count: 'nine' found, expected a whole number without quotes"],
    ),
    (
        "shop",
        SHOP.replace('"envelope"', '"sack"'),
        [
            "shop.toml: line 16, mailers.1.kind: 'sack' found, expected one of envelope, flat, padded, rigid, apparel, box, tube, card"
        ],
    ),
    (
        "shop",
        SHOP.replace('"forever"', '"eternal"'),
        [
            "shop.toml: line 27, stamps.1.kind: 'eternal' found, expected one of forever, additional_ounce, two_ounce, three_ounce, nonmachinable, postcard, semipostal, global_forever, face"
        ],
    ),
    (
        "shop",
        SHOP.replace("[sender]", "[sender"),
        ["shop.toml: line 1: expected valid TOML: Expected ']' at the end of a table declaration"],
    ),
    (
        "shop",
        SHOP.replace('"7.25"', '"wide"'),
        ["shop.toml: line 17, mailers.1.length: 'wide' found, expected a number such as 12.50"],
    ),
    ("orders", "", ["orders.csv: expected a header row and rows below it, but the file is empty"]),
    ("orders", HEAD + "\n", ["orders.csv: line 1: expected rows below the header, but there are none"]),
    ("weights", "", ["weights.csv: expected a header row and rows below it, but the file is empty"]),
    ("shop", "", ["shop.toml: sender: expected a value here; it is needed"]),
]

NOT_READ = [
    (
        ORDERS.replace(",1,6.50,", ",one,6.50,"),
        "1",
        "cell-not-read",
        "Can't read quantity: “one”. Expected a whole number of at least 1.",
    ),
    (
        ORDERS.replace(",2,6.50,", ",0,6.50,"),
        "2",
        "line-zero",
        "“Card” has a quantity of 0 and was left out.",
    ),
    (
        ORDERS.replace(",1,6.50,USD", ",1,six,USD"),
        "1",
        "cell-not-read",
        "Can't read unit_price: “six”. Expected an amount of USD such as 12.50.",
    ),
    (
        ORDERS.replace("6.50,USD,5.00\n2", "6.50,BUCKS,5.00\n2"),
        "1",
        "cell-not-read",
        "Can't read currency: “BUCKS”. Expected an ISO 4217 currency code such as USD.",
    ),
    (
        ORDERS.replace("6.50,USD,5.00\n2", "6.50,USD,lots\n2"),
        "1",
        "cell-not-read",
        "Can't read shipping_paid: “lots”. Expected an amount of USD such as 12.50.",
    ),
    (
        ORDERS.replace(HEAD, HEAD + ",discount").replace("5.00\n", "5.00,some\n", 1),
        "1",
        "cell-not-read",
        "Can't read discount: “some”. Expected an amount of USD such as 12.50.",
    ),
    (
        ORDERS.replace("6.50", "-6.50", 1),
        "1",
        "line-negative",
        "“Card” comes to -$6.50. It counts as a discount.",
    ),
    (
        ORDERS.replace("97701", "9x7"),
        "1",
        "postal-code-odd",
        "ZIP code 9x7 doesn't fit OR: its format is wrong.",
    ),
]


@pytest.mark.parametrize(("which", "text", "reported"), SPOILED)
def test_a_corrupted_file_is_reported_with_its_place_and_nothing_is_written(desk, capsys, which, text, reported):
    setattr(desk, which, text)
    assert desk.run() == 2
    err = capsys.readouterr().err
    assert err.replace(f"{desk.folder}/", "").splitlines() == reported
    assert not desk.out.exists()


@pytest.mark.parametrize(("text", "order", "code", "message"), NOT_READ)
def test_an_unreadable_cell_is_a_finding_of_its_order(desk, capsys, text, order, code, message):
    desk.orders = text
    assert desk.run() == 1
    assert capsys.readouterr().err == ""
    looks = [row for row in desk.table("findings.csv") if row["severity"] != "note"]
    assert [(row["order"], row["code"], row["severity"], row["message"]) for row in looks] == [
        (order, code, "look", message)
    ]
    status = {row["order"]: row["stands"] for row in desk.table("pieces.csv")}
    assert status == {"1": "ready", "2": "ready"} | {order: "needs a look"}


def test_an_unreadable_order_date_is_only_a_note(desk):
    desk.orders = ORDERS.replace(HEAD, HEAD + ",placed").replace("5.00\n", "5.00,31/31/2026\n", 1)
    assert desk.run() == 0
    (found,) = (row for row in desk.table("findings.csv") if row["code"] == "cell-not-read")
    assert (found["order"], found["severity"], found["message"]) == (
        "1",
        "note",
        "Can't read placed: “31/31/2026”. Expected a date that exists, such as 2026-11-25.",
    )


def test_free_shipping_is_an_amount_of_zero(desk):
    desk.orders = ORDERS.replace("6.50,USD,5.00\n2", "6.50,USD,free\n2")
    assert desk.run() == 0
    assert [row["charged"] for row in desk.table("pieces.csv")] == ["0.00", "5.00"]


def test_at_least_thirty_kinds_of_corruption_are_tried():
    assert len(SPOILED) >= 30
    assert {which for which, _, _ in SPOILED} == {"orders", "weights", "shop"}


def test_faults_of_all_files_are_reported_at_once(desk, capsys):
    desk.orders = ORDERS.replace("country", "qqq")
    desk.weights = WEIGHTS.replace("0.7,oz", "0.7,stone")
    desk.shop = SHOP.replace("[policy]", "[policy]\ncolour = 3")
    assert desk.run() == 2
    names = [line.removeprefix(f"{desk.folder}/").split(":")[0] for line in capsys.readouterr().err.splitlines()]
    assert sorted(names) == ["orders.csv", "shop.toml", "weights.csv"]


def test_an_existing_results_folder_is_left_unchanged(desk):
    desk.run()
    before = {path.name: path.read_bytes() for path in desk.out.iterdir()}
    desk.weights = WEIGHTS.replace("0.7,oz", "0.7,")
    assert desk.run() == 2
    assert {path.name: path.read_bytes() for path in desk.out.iterdir()} == before


@pytest.mark.parametrize("name", ["orders.csv", "weights.csv", "shop.toml"])
def test_a_missing_file_is_reported_in_a_sentence(desk, capsys, name):
    from desk.app.run import run

    desk.run()
    (desk.folder / name).unlink()
    files = [
        f"--{kind}={desk.folder / file}"
        for kind, file in (("orders", "orders.csv"), ("weights", "weights.csv"), ("shop", "shop.toml"))
    ]
    assert run([*files, f"--out={desk.folder / 'new'}"]) == 2
    reported = capsys.readouterr().err
    assert reported.count("\n") == 1
    assert name in reported
    assert not (desk.folder / "new").exists()


@pytest.mark.parametrize(
    ("option", "text", "reported"),
    [
        ("--map", "columns = 3", "map"),
        ("--zones", "prefix,zone\n977,north\n", "line 2, zone: 'north' found, expected a zone from 1 to 9"),
    ],
)
def test_a_corrupted_mapping_or_zone_chart_is_reported(desk, capsys, option, text, reported):
    desk.files["map"] = text
    assert desk.run(option, str(desk.folder / "map")) == 2
    assert reported in capsys.readouterr().err
    assert not desk.out.exists()
