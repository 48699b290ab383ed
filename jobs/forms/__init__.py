"""What people type: cleaned and read, never saved here."""

from jobs.forms.clients import ClientForm, FindClientForm
from jobs.forms.jobs import BookingForm, ChangeForm, CloseForm, FindForm, ReasonForm
from jobs.forms.looks import RuleForm, SettleForm
from jobs.forms.money import QuoteForm, SettleQuoteForm
from jobs.forms.pieces import AskForm, PieceForm, ReleaseForm, ScrapForm, UndoForm
from jobs.forms.sites import PlaceForm, SiteForm

__all__ = [
    "AskForm",
    "BookingForm",
    "ChangeForm",
    "ClientForm",
    "CloseForm",
    "FindClientForm",
    "FindForm",
    "PieceForm",
    "PlaceForm",
    "QuoteForm",
    "ReasonForm",
    "ReleaseForm",
    "RuleForm",
    "ScrapForm",
    "SettleForm",
    "SettleQuoteForm",
    "SiteForm",
    "UndoForm",
]
