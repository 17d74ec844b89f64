"""Keys that mean the same on every screen. One key, one meaning: a key that is used here means nothing else anywhere."""

FIND = "F Ctrl+F"
MAILER = "M"
SERVICE = "V"
SIZE = "X"
RIGHT = "Y"  # checked, it's right
ASIDE = "A"
REASON = "Shift+A"
PAGE = "I"
HISTORY = "Ctrl+H"
EDIT = "Ctrl+E"
UNDO = "Z Ctrl+Z"
REDO = "Ctrl+Shift+Z"
FINDER = "Ctrl+K"
KEYS = "? F1"
SAVE = "Ctrl+S"
PRINT = "Ctrl+P"
NEXT_PAGE, PAGE_BEFORE = "Ctrl+PgDown", "Ctrl+PgUp"
MATCH = "="  # scan to match
TOGETHER, APART = "Ctrl+J", "Ctrl+Shift+J"  # orders packed as one, and split again
SHIPS, SKIPS = "+", "-"  # what to do with a status
ANYWAY = "Ctrl+Shift+A"
LEFT = "Ctrl+L"  # what was handed over, and back
EARLIER, LATER = "[", "]"  # days
STAMPED, ALL_STAMPED, UNSTAMPED = "Ctrl+T", "Ctrl+Shift+T", "Ctrl+U"
HAND_OVER, HAND_ALL_OVER = "Ctrl+D", "Ctrl+Shift+D"
POSTAGE_LIST = "Ctrl+Shift+S"
FIRM_SHEET = "Ctrl+Shift+L"  # data for one certificate of mailing
LABELS = "Ctrl+I"
LOSSES, SIZES = "Ctrl+G", "Ctrl+M"
SOURCE_PRODUCT, ALL_VARIANTS = (
    "Ctrl+Shift+P",
    "Ctrl+Shift+V",
)  # customs details of another product, and for all variants
