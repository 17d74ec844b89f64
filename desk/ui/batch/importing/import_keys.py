"""The keys of the import preview, for the list of keys."""

from __future__ import annotations

from collections.abc import Sequence

from desk.ui.actions import Act
from desk.ui.batch.importing.import_panel import ImportOrdersPanel


def import_keys(panel: ImportOrdersPanel) -> Sequence[Act]:
    """Return the keys of the preview."""
    return (
        Act("Enter", "Import, or choose the column's type"),
        Act("A – Z", "Choose the column's type by its first letter"),
        Act("Space", "Use the suggestion for this column"),
        Act("Shift+Space", "Accept all suggestions, or all changes"),
        Act("Delete", "Skip this column"),
        Act("Ctrl+← Ctrl+→", "Swap with the next column"),
        Act("Escape", "Cancel", panel.leave),
    )
