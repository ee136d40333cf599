"""Draws what `bench report … all` wrote down, by another engine, and prints how long it took.

    other_engines.py reportlab|weasyprint FOLDER
"""
import html, json, pathlib, sys, time

FOLDER = pathlib.Path(sys.argv[2])
FONTS = {0: ("DejaVuSans", "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf"), 1: ("DejaVuSans-Bold", "/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf"),
         2: ("DejaVuSansMono", "/usr/share/fonts/truetype/dejavu/DejaVuSansMono.ttf")}


def reportlab():
    """Every text, line, box and picture at its place."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen import canvas

    start = time.perf_counter_ns()
    for name, file in FONTS.values():
        pdfmetrics.registerFont(TTFont(name, file))
    mm = 72 / 25.4
    out = canvas.Canvas(str(FOLDER / "reportlab.pdf"), pagesize=(210 * mm, 297 * mm), pageCompression=1)
    for page in json.loads((FOLDER / "drawing.json").read_text()):
        for points, width in page["lines"]:
            path = out.beginPath()
            path.moveTo(points[0][0] * mm, (297 - points[0][1]) * mm)
            for x, y in points[1:]:
                path.lineTo(x * mm, (297 - y) * mm)
            out.setLineWidth(max(width, 0.01) * mm)
            out.drawPath(path, stroke=int(width > 0), fill=int(width == 0))
        for x, y, w, h, width in page["boxes"]:
            out.rect(x * mm, (297 - y - h) * mm, w * mm, h * mm, stroke=int(width > 0), fill=0)
        for name, x, y, w, h in page["pictures"]:
            out.drawImage(str(FOLDER / name), x * mm, (297 - y - h) * mm, w * mm, h * mm)
        for x, y, words, size, weight, anchor in page["texts"]:
            out.setFont(FONTS[weight][0], size * mm)
            (out.drawString, out.drawCentredString, out.drawRightString)[anchor](x * mm, (297 - y) * mm, words)
        out.showPage()
    out.save()
    return time.perf_counter_ns() - start


def weasyprint():
    """The same words and pictures as a page of the web would have them: what stands on one line is a row of a table."""
    from weasyprint import HTML

    start = time.perf_counter_ns()
    parts = ["<style>@page{size:A4;margin:12mm} body{font:2.8mm 'DejaVu Sans'} table{width:100%} section{page-break-after:always}</style>"]
    for page in json.loads((FOLDER / "drawing.json").read_text()):
        rows = {}
        for x, y, words, _, weight, _ in page["texts"]:
            rows.setdefault(round(y), []).append((x, f"<b>{html.escape(words)}</b>" if weight == 1 else html.escape(words)))
        parts.append("<section><table>")
        parts += ["<tr>" + "".join(f"<td>{words}</td>" for _, words in sorted(rows[y])) + "</tr>" for y in sorted(rows)]
        parts.append("</table>")
        parts += [f'<img src="{name}" style="width:{w}mm;height:{h}mm">' for name, _, _, w, h in page["pictures"]]
        parts.append("</section>")
    HTML(string="".join(parts), base_url=str(FOLDER)).write_pdf(str(FOLDER / "weasyprint.pdf"))
    return time.perf_counter_ns() - start


took = {"reportlab": reportlab, "weasyprint": weasyprint}[sys.argv[1]]()
peak, = [line for line in pathlib.Path("/proc/self/status").read_text().splitlines() if line.startswith("VmHWM")]
print(json.dumps({"ns": took, "peak_kb": int(peak.split()[1])}))
