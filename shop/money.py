"""Money as people write it: exact decimals, rounded once, never without currency.

Takes Decimal, gives Decimal or words. No float comes in here.
"""

from __future__ import annotations

import re
from decimal import ROUND_HALF_UP, Decimal, InvalidOperation

# ISO 4217: currencies whose smallest unit is not a hundredth; from memory.
PLACES = {
    **dict.fromkeys(("BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG"), 0),
    **dict.fromkeys(("RWF", "UGX", "UYI", "VND", "VUV", "XAF", "XOF", "XPF"), 0),
    **dict.fromkeys(("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"), 3),
}
MOST = Decimal(10) ** 9
_AMOUNT = re.compile(r"[+-]?\d+(\.\d+)?|[+-]?\.\d+")


def places(currency: str) -> int:
    return PLACES.get(currency, 2)


def smallest(currency: str) -> Decimal:
    """The currency's smallest unit: 0.01 for most."""
    return Decimal(1).scaleb(-places(currency))


def rounded(amount: Decimal, currency: str) -> Decimal:
    """To the currency's smallest unit, halves away from zero."""
    return amount.quantize(smallest(currency), ROUND_HALF_UP)


def read_amount(text: str) -> Decimal:
    """An amount as it is typed: 1250, 1 250.50, 1,250.50, 1250,5.

    A comma before exactly three digits could mean either; with a point behind it, or
    another comma before, it groups thousands, else it is refused.
    Raises ValueError with what to write instead.
    """
    words = re.sub(r"[\s\u00a0\u2009']", "", str(text))
    plain = _plain(words)
    if plain is None:
        raise ValueError(
            f"“{text}” can be read in two ways. Write 1250 or 1.25, without a comma."
        )
    if not _AMOUNT.fullmatch(plain):
        raise ValueError(f"“{text}” is not an amount. Write a number, such as 1250.50.")
    try:
        amount = Decimal(plain)
    except InvalidOperation:
        raise ValueError(f"“{text}” is not an amount.") from None
    if abs(amount) >= MOST:
        raise ValueError(f"“{text}” is too much. Give less than 1 000 000 000.")
    return amount


def _plain(words: str) -> str | None:
    """With a point for the decimals and nothing else; None where it is not clear."""
    if "," not in words:
        return words
    if "." in words:
        grouped = re.fullmatch(r"[+-]?\d{1,3}(,\d{3})+\.\d+", words)
        return words.replace(",", "") if grouped else words
    if re.fullmatch(r"[+-]?\d{1,3}(,\d{3}){2,}", words):
        return words.replace(",", "")
    if re.fullmatch(r"[+-]?[1-9]\d{0,2},\d{3}", words):
        return None
    return words.replace(",", ".") if words.count(",") == 1 else words


def show_money(amount: Decimal, currency: str) -> str:
    """Grouped by thousands, with its currency. Example: 1 234.50 USD"""
    exact = rounded(amount, currency)
    sign = "−" if exact < 0 else ""
    digits = f"{abs(exact):,f}".replace(",", "\u00a0")
    return f"{sign}{digits}\u00a0{currency}"


def show_rate(amount: Decimal, currency: str) -> str:
    """A price of one, with the decimals it has, at least the currency's."""
    least = smallest(currency)
    exact = amount.normalize()
    if exact.as_tuple().exponent > least.as_tuple().exponent:  # type: ignore[operator]
        exact = amount.quantize(least)
    return f"{exact:,f}".replace(",", "\u00a0") + f"\u00a0{currency}"
