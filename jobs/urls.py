from django.urls import path

from jobs.views import clients, days, jobs, looks, money, pieces, sites, times

app_name = "jobs"

urlpatterns = [
    path("today/", days.today, name="today"),
    path("jobs/week/", days.week, name="week"),
    path("jobs/", jobs.job_list, name="list"),
    path("jobs/new/", jobs.new, name="new"),
    path("jobs/<int:pk>/", jobs.job, name="job"),
    path("jobs/<int:pk>/change/", jobs.change, name="change"),
    path("jobs/<int:pk>/close/", jobs.close, name="close"),
    path("jobs/<int:pk>/open/", jobs.open_again, name="open_again"),
    path("jobs/<int:pk>/log/", jobs.log_page, name="log"),
    path("jobs/<int:pk>/looks/", looks.ask, name="rule_ask"),
    path("looks/<int:pk>/settle/", looks.settle, name="rule_settle"),
    path("jobs/<int:pk>/pieces/", pieces.ask, name="piece_ask"),
    path("jobs/<int:pk>/pieces/advance/", pieces.advance_several, name="advance"),
    path("pieces/<int:pk>/clock/", times.start_piece, name="clock_piece"),
    path("jobs/<int:pk>/clock/", times.start_job, name="clock_job"),
    path("clock/stop/", times.stop, name="clock_stop"),
    path("jobs/<int:pk>/hours/", times.hours, name="hours"),
    path("hours/<int:pk>/strike/", times.strike, name="hours_strike"),
    path("costs/<int:pk>/take-back/", money.take_back, name="cost_take_back"),
    path("jobs/<int:pk>/account/", money.account, name="account"),
    path("quotes/<int:pk>/", money.quote, name="quote"),
    path("quotes/<int:pk>/settle/", money.settle, name="quote_settle"),
    path("jobs/<int:pk>/quotes/lapse/", money.lapse, name="quotes_lapse"),
    path("sites/<int:pk>/", sites.site, name="site"),
    path("clients/", clients.client_list, name="clients"),
    path("clients/new/", clients.new, name="client_new"),
    path("clients/<int:pk>/", clients.client, name="client"),
    path("clients/<int:pk>/change/", clients.change, name="client_change"),
    path("pieces/<int:pk>/", pieces.piece, name="piece"),
    path("pieces/<int:pk>/advance/", pieces.advance, name="piece_advance"),
    path("pieces/<int:pk>/undo/", pieces.undo, name="piece_undo"),
    path("pieces/<int:pk>/hold/", pieces.hold, name="piece_hold"),
    path("pieces/<int:pk>/release/", pieces.release, name="piece_release"),
    path("pieces/<int:pk>/scrap/", pieces.scrap, name="piece_scrap"),
]
