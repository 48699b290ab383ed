"""The README's first command: the main job through the real queue, told truly."""

from __future__ import annotations

import re
import urllib.request
from collections.abc import Iterator
from http.cookiejar import CookieJar
from pathlib import Path
from urllib.parse import urlencode

import pytest

from tests.premises import Premises, free_port, is_up, premises, wait_for

pytestmark = pytest.mark.servers


@pytest.fixture
def place(tmp_path: Path) -> Iterator[Premises]:
    with premises(tmp_path) as place:
        yield place


def pdf_named_in(said: str) -> Path:
    found = re.search(r"Cut sheets of job \d+: (/.*\.pdf)$", said, re.MULTILINE)
    assert found, said
    return Path(found[1])


def test_the_demo_ends_with_its_cut_sheets_and_again(place: Premises) -> None:
    first = place.run("demo", "--no-serve")
    pdf = pdf_named_in(first.stdout)
    assert pdf.read_bytes().startswith(b"%PDF-")
    before = pdf.read_bytes()
    again = place.run("demo", "--no-serve")
    assert pdf.read_bytes() == before
    assert pdf_named_in(again.stdout).exists()
    counts = place.python(
        "from jobs.models import Job\nfrom shop.models import Errand, Person\n"
        "print(Job.objects.count(), Person.objects.count(),"
        " Errand.objects.exclude(state='done').count())"
    )
    assert counts == "1 3 0"


def test_the_demo_serves_a_site_its_sign_in_opens(place: Premises) -> None:
    port = free_port()
    demo = place.start("-u", "manage.py", "demo", "--port", str(port))
    wait_for(lambda: is_up(port))
    said = (place.home / "log-0").read_text()
    assert pdf_named_in(said).exists()
    words = re.search(r"Sign in as (\w+) .* password (\S+)", said)
    assert words
    site = f"http://127.0.0.1:{port}"
    cookies = CookieJar()
    browser = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(cookies))
    browser.open(f"{site}/sign-in/").close()
    token = next(cookie.value for cookie in cookies if cookie.name == "csrftoken")
    form = {
        "username": words[1],
        "password": words[2],
        "csrfmiddlewaretoken": token,
    }
    with browser.open(f"{site}/sign-in/", urlencode(form).encode()) as page:
        assert page.url == f"{site}/today/"
        assert page.status == 200
    demo.terminate()
    assert demo.wait(timeout=90) == 0


def test_the_demo_stays_out_of_a_real_shop(place: Premises) -> None:
    place.python(
        "from shop.models import Person\n"
        "Person.objects.create_user('someone', password='x', role='owner')"
    )
    refused = place.run("demo", "--no-serve", check=False)
    assert refused.returncode == 1
    assert "SEAMBOOK_HOME" in refused.stderr and "Traceback" not in refused.stderr
