from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from jobs.models import Job
from layout.laying import lay_out_job
from layout.models import LaidPiece
from tests.layout.measured import measured_job, take

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

PLACES = """async ([script, url]) => {
    const { facesAt } = await import(script);
    const fold = await (await fetch(url)).json();
    const there = fold.file_frames[0].vertices_coords;
    const flat = fold.vertices_coords;
    const miss = (share, ask) => Math.max(...facesAt(fold, share).flatMap(
        (ring, f) => ring.map((p, i) => ask(p, fold.faces_vertices[f][i], ring, f))));
    const gap = (p, q) => Math.hypot(...p.map((n, i) => n - q[i]));
    const sides = (share) => miss(share, (p, v, ring, f) => {
        const i = ring.indexOf(p), j = (i + 1) % ring.length;
        const w = fold.faces_vertices[f][j];
        return Math.abs(gap(p, ring[j]) - gap(flat[v], flat[w]));
    });
    return {
        faces: fold.faces_vertices.length,
        folded: miss(1, (p, v) => gap(p, there[v])),
        halfway: sides(0.5),
        flat: sides(0),
    };
}"""


@pytest.fixture
def laid_job(opened: None, office: Any) -> Job:
    job = measured_job(office)
    first = job.sites.get().measurements.get(name="penetration.front")
    take(job.sites.get(), "penetration.front", "33", office, note="Taken again.")
    from jobs import measuring

    measuring.choose(first, office, "the tape slipped the second time")
    lay_out_job(job, office)
    return job


def _axe(page: Any) -> list[str]:
    from axe_playwright_python.sync_playwright import Axe

    found = Axe().run(page).response["violations"]
    # Left empty, or what axe still asks for would be heard on the next page.
    page.goto("about:blank")
    return [f"{it['id']}: {[n['target'] for n in it['nodes']][:4]}" for it in found]


def _listen(page: Any) -> list[str]:
    said: list[str] = []
    page.on("console", lambda m: said.append(m.text) if m.type == "error" else None)
    page.on("pageerror", lambda fault: said.append(str(fault)))
    return said


def _addresses(job: Job) -> dict[str, str]:
    laid = LaidPiece.objects.filter(layout__job=job, mark="BL").last()
    piece = job.pieces.get(mark="PL")
    return {
        "measure": f"/jobs/{job.pk}/measure/",
        "takings": f"/jobs/{job.pk}/measure/penetration-front/",
        "layout": f"/jobs/{job.pk}/layout/",
        "laid": f"/laid/{laid.pk}/",
        "made-piece": f"/pieces/{piece.pk}/",
        "job-with-layout": f"/jobs/{job.pk}/",
    }


@pytest.mark.parametrize("screen", ["phone", "desk"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_page_is_whole_and_open_to_all(
    open_page: Any, office: Any, laid_job: Job, pictures: Path, screen: str, scheme: str
) -> None:
    page = open_page(office, screen, scheme)
    said = _listen(page)
    broken: list[str] = []
    for name, address in _addresses(laid_job).items():
        said.clear()
        page.goto(address)
        page.wait_for_load_state("networkidle")
        # Only what the page does by itself: axe writes styles of its own.
        broken += [f"{name}: {it}" for it in said]
        page.evaluate("document.querySelectorAll('img').forEach(it => it.loading = '')")
        page.wait_for_load_state("networkidle")
        page.screenshot(
            path=pictures / f"layout-{name}-{screen}-{scheme}.png", full_page=True
        )
        wide = page.evaluate(
            "(it => it.scrollWidth - it.clientWidth)(document.documentElement)"
        )
        assert wide <= 0, f"{name} scrolls sideways by {wide} px"
        assert _axe(page) == [], name
    assert broken == []


def test_every_piece_folds_in_the_page_to_its_proven_place(
    open_page: Any, office: Any, laid_job: Job
) -> None:
    page = open_page(office)
    pieces = LaidPiece.objects.filter(layout__job=laid_job)
    page.goto(f"/laid/{pieces[0].pk}/")
    script = page.locator("script[type=module]").get_attribute("src")
    for laid in pieces:
        found = page.evaluate(PLACES, [script, f"/laid/{laid.pk}/piece.fold"])
        assert found["faces"] == len(laid.pattern["pattern"]["faces"])
        assert found["folded"] < 1e-6, laid.mark
        assert found["halfway"] < 1e-6, laid.mark
        assert found["flat"] < 1e-6, laid.mark


def test_a_piece_comes_up_by_slider_keys_and_pointer(
    open_page: Any, office: Any, laid_job: Job, pictures: Path
) -> None:
    page = open_page(office, "phone")
    page.goto(_addresses(laid_job)["laid"])
    figure = page.locator("[data-fold-up][data-ready]")
    figure.wait_for()
    stage = figure.locator("[data-stage]")

    def drawn() -> str:
        return str(stage.locator("svg").inner_html())

    folded = drawn()
    slider = figure.get_by_role("slider")
    slider.fill("0")
    flat = drawn()
    assert flat != folded
    assert slider.get_attribute("aria-valuetext") == "flat"
    figure.screenshot(path=pictures / "fold-flat.png")
    slider.fill("50")
    assert drawn() not in (flat, folded)
    figure.screenshot(path=pictures / "fold-half.png")
    slider.focus()
    page.keyboard.press("End")
    assert drawn() == folded
    stage.focus()
    page.keyboard.press("ArrowLeft")
    turned = drawn()
    assert turned != folded
    box = stage.bounding_box()
    page.mouse.move(box["x"] + 50, box["y"] + 50)
    page.mouse.down()
    page.mouse.move(box["x"] + 120, box["y"] + 70)
    page.mouse.up()
    assert drawn() != turned
    figure.get_by_role("button", name="First view").click()
    assert drawn() == folded
    # Motion is not wanted here, so it is flat at once.
    figure.get_by_role("button", name="Fold it").click()
    assert drawn() == flat


def test_a_measure_is_read_at_once_and_saved(
    open_page: Any, crew: Any, opened: None
) -> None:
    job = measured_job(penetration_front=None)
    page = open_page(crew, "phone")
    said = _listen(page)
    page.goto(f"/jobs/{job.pk}/measure/")
    field = page.get_by_label("Front", exact=True)
    field.press_sequentially("32 3/4")
    page.get_by_text("Read as 32 3/4 in (831.9 mm)").wait_for()
    field.fill("9")
    page.get_by_text("9 in").first.wait_for()
    field.fill("130")
    page.get_by_text("is unusual here").wait_for()
    field.fill("32 3/4 x")
    page.get_by_text("is not a number a tape shows").wait_for()
    page.get_by_role("button", name="Save the measures").click()
    page.get_by_text("Nothing is saved yet").wait_for()
    assert page.get_by_label("Front", exact=True).input_value() == "32 3/4 x"
    page.get_by_label("Front", exact=True).fill("32 3/4")
    page.get_by_role("button", name="Save the measures").click()
    page.get_by_text("Saved: Front.").wait_for()
    taken = job.sites.get().measurements.get(name="penetration.front")
    assert (taken.as_typed, taken.taken_by) == ("32 3/4", crew)
    assert said == [
        it for it in said if "422" in it
    ]  # the browser names the answer with the fault


def test_what_is_typed_survives_a_lost_signal_and_a_flat_battery(
    open_page: Any, crew: Any, opened: None, pictures: Path
) -> None:
    job = measured_job(penetration_front=None)
    page = open_page(crew, "phone")
    page.goto(f"/jobs/{job.pk}/measure/")
    page.get_by_label("Front", exact=True).fill("32 3/4")
    page.get_by_label("Note on these measures").fill("wind from the north")
    page.context.set_offline(True)
    page.get_by_role("button", name="Save the measures").click()
    page.get_by_text("No signal. What you typed is kept").wait_for()
    page.screenshot(path=pictures / "measure-no-signal.png")
    page.context.set_offline(False)
    again = page.context.new_page()
    page.close()
    again.goto(f"/jobs/{job.pk}/measure/")
    again.get_by_text("2 entries typed").wait_for()
    again.screenshot(path=pictures / "measure-draft.png")
    assert again.get_by_label("Front", exact=True).input_value() == "32 3/4"
    again.get_by_role("button", name="Save the measures").click()
    again.get_by_text("Saved: Front.").wait_for()
    again.goto(f"/jobs/{job.pk}/measure/")
    again.wait_for_load_state("networkidle")
    assert again.get_by_label("Front", exact=True).input_value() == ""
    taken = job.sites.get().measurements.get(name="penetration.front")
    assert taken.note == "wind from the north"


def test_a_job_is_measured_and_laid_out_without_script(
    open_page: Any, office: Any, opened: None
) -> None:
    job = measured_job(office, roof_above=None, build_back=None)
    page = open_page(office, "desk", script=False)
    page.goto(f"/jobs/{job.pk}/layout/")
    page.get_by_role("link", name="Above").click()
    page.get_by_label("Above", exact=True).fill("26")
    page.get_by_role("button", name="Save the measures").click()
    page.get_by_role("link", name="Go to the layout").click()
    page.get_by_label("Built behind it", exact=True).select_option("falling left")
    page.get_by_role("button", name="Lay out").click()
    page.get_by_text("Layout 1 is done.").wait_for()
    assert page.get_by_role("heading", name="Joints").is_visible()
    assert job.pieces.filter(state="laid_out").count() > 5
    page.wait_for_load_state("networkidle")
