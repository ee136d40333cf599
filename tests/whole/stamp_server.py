"""A stamp server on loopback: `openssl ts -reply` behind a small page server. RFC 3161, section 3.4."""
import http.server, pathlib, subprocess, threading

SETTINGS = """
[ tsa ]
default_tsa = clock
[ clock ]
serial = {folder}/serial
signer_cert = {folder}/clock.pem
certs = {folder}/root.pem
signer_key = {folder}/clock.key
signer_digest = sha256
default_policy = 1.2.3.4.1
digests = sha256
accuracy = secs:1
ess_cert_id_alg = sha256
[ req ]
distinguished_name = names
[ names ]
[ root ]
basicConstraints = critical,CA:TRUE
keyUsage = critical,keyCertSign
[ clock_extensions ]
basicConstraints = critical,CA:FALSE
keyUsage = critical,digitalSignature
extendedKeyUsage = critical,timeStamping
"""


def openssl(*words):
    done = subprocess.run(["openssl", *map(str, words)], capture_output=True)
    assert done.returncode == 0, (words, done.stderr.decode())
    return done.stdout


class StampServer:
    """`kind` of key: "rsa:2048" or "ec". `answer` may be replaced to answer wrongly."""

    def __init__(self, folder, kind="rsa:2048"):
        self.folder = pathlib.Path(folder)
        self.folder.mkdir(parents=True, exist_ok=True)
        settings = self.folder / "tsa.cnf"
        settings.write_text(SETTINGS.format(folder=self.folder))
        (self.folder / "serial").write_text("01\n")
        how = ["-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256"] if kind == "ec" else ["-newkey", kind]
        openssl("req", "-x509", *how, "-nodes", "-days", 3650, "-subj", "/CN=Tarnhollow Clock Root", "-config", settings,
                "-extensions", "root", "-keyout", self.folder / "root.key", "-out", self.folder / "root.pem")
        openssl("req", *how, "-nodes", "-subj", "/CN=Tarnhollow Clock", "-config", settings,
                "-keyout", self.folder / "clock.key", "-out", self.folder / "clock.csr")
        openssl("x509", "-req", "-in", self.folder / "clock.csr", "-CA", self.folder / "root.pem", "-CAkey", self.folder / "root.key",
                "-set_serial", 2, "-days", 3650, "-extfile", settings, "-extensions", "clock_extensions",
                "-out", self.folder / "clock.pem")
        self.asked, self.answer = 0, self.stamp
        outer = self

        class Page(http.server.BaseHTTPRequestHandler):
            def do_POST(self):
                outer.asked += 1
                question = self.rfile.read(int(self.headers["Content-Length"]))
                known = self.headers["Content-Type"] == "application/timestamp-query"
                answer = outer.answer(question) if known else None
                self.send_response(200 if answer is not None else 415)
                self.send_header("Content-Type", "application/timestamp-reply")
                self.end_headers()
                self.wfile.write(answer or b"")

            def log_message(self, *words):
                pass

        self.server = http.server.HTTPServer(("127.0.0.1", 0), Page)
        self.url = f"http://127.0.0.1:{self.server.server_port}/stamp"
        threading.Thread(target=self.server.serve_forever, daemon=True).start()

    def stamp(self, question):
        (self.folder / "question.tsq").write_bytes(question)
        openssl("ts", "-reply", "-queryfile", self.folder / "question.tsq", "-config", self.folder / "tsa.cnf",
                "-out", self.folder / "answer.tsr")
        return (self.folder / "answer.tsr").read_bytes()

    def close(self):
        self.server.shutdown()
        self.server.server_close()
