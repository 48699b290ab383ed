from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from jobs import booking
from jobs.access import client_for, clients_for, jobs_for, person_who_may
from jobs.forms import ClientForm, FindClientForm
from jobs.models import Client


@require_safe
def client_list(request: HttpRequest) -> HttpResponse:
    clients = clients_for(request.user)
    form = FindClientForm(request.GET)
    words = form.cleaned_data["words"] if form.is_valid() else ""
    clients = clients.matching(words).with_open_jobs().by_name()
    page = Paginator(clients, 50).get_page(request.GET.get("page"))
    query = request.GET.copy()
    query.pop("page", None)
    return render(
        request,
        "jobs/client_list.html",
        {"page": page, "form": form, "query": query.urlencode()},
    )


@require_safe
def client(request: HttpRequest, pk: int) -> HttpResponse:
    client = client_for(request.user, pk)
    jobs = jobs_for(request.user).of_client(client).newest_first()
    page = Paginator(jobs, 50).get_page(request.GET.get("page"))
    context = {"client": client, "page": page, "query": ""}
    return render(request, "jobs/client_detail.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest) -> HttpResponse:
    person_who_may(request.user, "book")
    form = ClientForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        client = Client.objects.create(**form.typed())
        messages.success(request, f"{client} is written down.")
        return redirect(client)
    status = 422 if form.is_bound else 200
    context = {"form": form, "heading": "A new client"}
    return render(request, "jobs/client_form.html", context, status=status)


@require_http_methods(["GET", "HEAD", "POST"])
def change(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "book")
    client = client_for(person, pk, "book")
    form = ClientForm(request.POST or None, instance=client)
    status = 422 if form.is_bound else 200
    if request.method == "POST" and form.is_valid():
        version = form.cleaned_data["version"] or 0
        try:
            booking.change_client(client, person, form.typed(), version)
            messages.success(request, f"{client} is saved.")
            return redirect(client)
        except booking.ChangedMeanwhile as meanwhile:
            form.add_error(None, str(meanwhile))
            again = request.POST.copy()
            again["version"] = str(Client.objects.get(pk=pk).version)
            form.data = again
            status = 409
    context = {"form": form, "client": client, "heading": f"Change {client}"}
    return render(request, "jobs/client_form.html", context, status=status)
