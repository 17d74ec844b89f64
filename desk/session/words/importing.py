"""Sentences about order lists: what could not be read, and what was left out."""

from __future__ import annotations

from collections.abc import Mapping

from desk.domain.codes import Code

IMPORTING: Mapping[Code, tuple[str, str]] = {
    Code.CELL_NOT_READ: (
        "Can't read {column}: \u201c{found}\u201d. Expected {expected}.",
        "Check this order, or correct the list and import it again.",
    ),
    Code.ORDER_TWO_VALUES: (
        "This order has two values for {column}: \u201c{used}\u201d and \u201c{other}\u201d. The first one is used.",
        "Check which one is right.",
    ),
    Code.LINE_DOUBTFUL: (
        "\u201c{item}\u201d may not be goods. It counts as goods for now.",
        "Add it to your products, and mark it there if it is not goods.",
    ),
    Code.LINE_NEGATIVE: (
        "\u201c{item}\u201d comes to {amount}. It counts as a discount.",
        "Check what goes into this package.",
    ),
    Code.GOODS_MISSING: (
        "This order lists no goods.",
        "Check what goes into this package.",
    ),
    Code.LINE_RETURNED: (
        "\u201c{item}\u201d has a quantity of {quantity}: a return. It was left out.",
        "Check what goes into this package.",
    ),
    Code.LINE_ZERO: (
        "\u201c{item}\u201d has a quantity of 0 and was left out.",
        "Check what goes into this package.",
    ),
    Code.LINE_TOTAL_DIFFERS: (
        "\u201c{item}\u201d: quantity times price is {reckoned}, but the list says {found}.",
        "Check the price, because customs forms use it.",
    ),
    Code.TOTAL_DIFFERS: (
        "The lines, discounts, and shipping come to {reckoned}, but the order total is {stated}.",
        "Check the order for a line, discount, or fee that is missing.",
    ),
    Code.ROW_TOO_WIDE: (
        "A row of this order has more cells than the header row ({width}).",
        "Columns may have shifted: check the name, address, and items.",
    ),
    Code.TEXT_TOO_LONG: (
        "{column} has {length} characters; the most is {most}.",
        "Shorten it in the list and import it again.",
    ),
    Code.ADDRESSES_SPLIT: (
        "{file}: each address in \u201c{header}\u201d was split. \u201c{example}\u201d was read as {read}.",
        "If that is wrong, use separate columns for street, city, and ZIP code.",
    ),
    Code.ITEMS_SPLIT: (
        "{file}: each item in \u201c{header}\u201d became a line of its own. \u201c{example}\u201d was read as {read}.",
        'If that is wrong, put item = "as written" under [formats] in a mapping.',
    ),
    Code.LINES_SIDE_BY_SIDE: (
        "{file}: these columns were read as more lines of the order: {headers}.",
        "If that is wrong, add them to ignore in a mapping.",
    ),
    Code.COLUMN_TWO_WAYS: (
        "{file}, {header}: {count} cells could be {readings}, for example \u201c{example}\u201d on lines {lines}.",
        "Say which in a mapping, under [formats]: {mapping}",
    ),
    Code.COLUMN_NOT_TAKEN: (
        "{file}: column \u201c{header}\u201d may be \u201c{words}\u201d ({examples}). It was not read.",
        'To read it, put {field} = "{header}" under [columns] in a mapping. To skip it, add it to ignore.',
    ),
    Code.COLUMN_IGNORED: (
        "{file}: column \u201c{header}\u201d was not read ({examples}).",
        "To read it, add it under [columns] in a mapping. To skip it, add it to ignore.",
    ),
    Code.ORDERS_SHIPPED: (
        "{file}: {orders} left out as already shipped (status \u201c{status}\u201d).",
        'To include them, put status = "" under [columns] in a mapping.',
    ),
}
