"""The report against bare libharu and other engines drawing the same, and its check against pdfsig."""
import json, subprocess

from rows_base import BUILD, ROOT, SECONDS, against, ending, figures, folder, median_ns, one_job


def peak_mb(*words):
    """The most memory a process had, in MB, as it says itself at its end, and what else it printed."""
    done = subprocess.run(list(map(str, words)), capture_output=True, text=True, cwd=ROOT, check=False)
    if done.returncode != 0:
        return None, {}
    told = json.loads(done.stdout.splitlines()[-1])
    return told["peak_kb"] / 1024, told


def report():
    drawing = folder()
    data = one_job()
    seen = figures("report", SECONDS, data, "all", drawing)
    ours, name = ending(seen, "report drawn and sealed, ")
    drawn = ending(seen, "report drawn, without tags and seal, ")[0]
    bare = ending(seen, "bare libharu, ")[0]
    rows = [against(f"report drawn, {name}", "1.5 × bare libharu drawing the same", drawn["median_ns"], bare["median_ns"], 1.5),
            against(f"report drawn, tagged and sealed, {name}", "bare libharu drawing the same, no tags, no seal", ours["median_ns"], bare["median_ns"], None)]
    none = peak_mb(BUILD / "bench", "report", 1, data, "none", drawing)[0]
    memory = [("ours, tagged and sealed", peak_mb(BUILD / "bench", "report", 1, data, "ours", drawing)[0]),
              ("bare libharu", peak_mb(BUILD / "bench", "report", 1, data, "bare", drawing)[0])]
    for engine, owed, target in (("reportlab", "reportlab drawing the same", None), ("weasyprint", "1/30 of WeasyPrint, from HTML", 1 / 30)):
        mb, told = peak_mb("/usr/bin/python3", ROOT / "tests/bench/other_engines.py", engine, drawing)
        if mb is None:
            continue
        other = told["ns"]
        rows.append(against(f"report drawn, {name}", owed, drawn["median_ns"], other, target))
        rows.append(against(f"report drawn, tagged and sealed, {name}", engine, ours["median_ns"], other, None))
        memory.append((engine, mb))
    for who, mb in memory[1:]:
        if mb and memory[0][1]:
            rows.append(("peak memory of the report, whole process", who, f"{memory[0][1]:.0f} MB ({memory[0][1] - none:.0f} of them drawing)", f"{mb:.0f} MB",
                         memory[0][1] / mb, None))
    return rows


def verify():
    data = one_job()

    def run(*words):
        return lambda: subprocess.run(list(map(str, words)), capture_output=True, check=False)

    ours = median_ns(run(BUILD / "witnessmark", "attest", data / "report.pdf", "--data", data))
    nothing = median_ns(run(BUILD / "witnessmark", "--help"))
    other = median_ns(run("pdfsig", data / "report.pdf"))
    return [against("verify a sealed report, whole process", "pdfsig's time", ours, other, 1.0),
            against("start of the program alone (`--help`)", "pdfsig's time", nothing, other, None)]
