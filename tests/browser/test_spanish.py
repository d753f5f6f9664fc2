"""The page in its second language: what the program says is said in it too, and marked where it is not."""

import re
from pathlib import Path
from typing import Any

from playwright.sync_api import expect

ENGLISH = re.compile(r"\b(the|and|of|is|are|with|from|posts?|hole|gate|line|corner|set)\b", re.IGNORECASE)
UNMARKED = """() => {
    const found = [];
    const walk = (node, lang) => {
        if (node.nodeType === Node.TEXT_NODE && lang === "es") found.push(node.textContent.trim());
        if (node.nodeType === Node.ELEMENT_NODE) {
            if (["style", "textarea", "svg"].includes(node.localName)) return;
            if (getComputedStyle(node).display === "none") return;
            lang = node.getAttribute("lang") ?? lang;
            for (const name of ["aria-label", "title", "placeholder"])
                if (lang === "es" && node.getAttribute(name)) found.push(node.getAttribute(name));
            if (node.shadowRoot) for (const child of node.shadowRoot.childNodes) walk(child, lang);
        }
        for (const child of node.childNodes) walk(child, lang);
    };
    walk(document.body, document.documentElement.lang);
    return found;
}"""
PANELS = [
    "Observaciones",
    "Elegido",
    "Trabajo",
    "Postes",
    "Pedido",
    "Rollos",
    "Tensión",
    "Resistencia",
    "Historial",
    "Llevarse",
]


def test_the_whole_page_is_spanish_or_marked(person: Any) -> None:
    person.new_job("Potrero")
    person.draw_paddock()
    person.wait_whole(2)
    page = person.page
    page.get_by_label("Language").select_option("es")
    expect(page.locator("html")).to_have_attribute("lang", "es")
    left = set()
    for panel in PANELS:
        person.show(panel)
        page.wait_for_timeout(300)
        said = (text for text in page.evaluate(UNMARKED) if ENGLISH.search(text))
        left |= {
            (panel, text) for text in said if not re.search(r"line 1|\.\w{3,7}$", text)
        }  # names of lines and files
    assert not left
    person.show("Historial")
    expect(page.locator("job-history li").first).to_contain_text("dibujar línea «line 1»")
    person.show("Observaciones")
    frost = page.locator("finding-list li").filter(has_text="Profundidad de helada supuesta")
    expect(frost.get_by_role("heading", level=3)).to_have_text(
        re.compile("Precaución: Profundidad de helada supuesta")
    )
    expect(frost).to_contain_text("El trabajo no declara profundidad de helada")
    person.show("Trabajo")
    expect(page.get_by_label("Constructor", exact=False).first).to_be_visible()


def test_a_refusal_of_the_program_is_told_in_the_page_s_language_whole(person: Any) -> None:
    person.new_job("Potrero")
    person.draw_paddock()
    person.wait_whole(2)
    page = person.page
    page.get_by_label("Language").select_option("es")
    person.show("Por qué")
    person.expected = ["422"]
    page.get_by_label("Poste, puntal, tirada, rollo, puerta, renglón del pedido o suma").fill("P999")
    page.locator("why-panel").get_by_role("button", name="Por qué").click()
    refused = page.locator("why-panel [role=alert]")
    expect(refused).to_have_text(
        re.compile(r"^no hay poste P999: lo más cercano es P\d+; .+ van de P1 a P\d+$")
    )
    expect(refused).not_to_have_attribute("lang", re.compile("."))


def test_a_file_that_is_refused_is_told_in_spanish_on_the_list_of_jobs(person: Any, tmp_path: Path) -> None:
    page = person.page
    person.expected = ["422"]
    page.goto(person.home)
    page.get_by_label("Language").select_option("es")
    wrong = tmp_path / "sitio.gpx"
    wrong.write_text("<html></html>", "utf-8")
    page.get_by_label("Importar un trabajo o archivos del sitio").set_input_files(wrong)
    refused = page.locator("job-list [role=alert]")
    expect(refused).to_have_text("sitio.gpx: es XML de otra clase (<html>), no GPX")
    expect(refused.locator("[lang=en]")).to_have_count(0)
