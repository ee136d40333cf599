"""A PostgreSQL server of the test's own: its own folder, a socket and no port of the network, gone when the test ends."""
import glob, os, pathlib, pwd, shutil, subprocess, tempfile

from program import must

PORT = 54377


class Server:
    """Started by the user postgres where the test runs as root, for the server refuses root."""

    def __init__(self):
        found = sorted(glob.glob("/usr/lib/postgresql/*/bin/initdb"))
        must(found, "no PostgreSQL here: scripts/deps install")
        self.bin = pathlib.Path(found[-1]).parent
        self.user = "postgres" if os.getuid() == 0 else pwd.getpwuid(os.getuid()).pw_name
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="wm-pg-", dir="/tmp"))  # a socket's path is short
        shutil.chown(self.folder, self.user)
        self.folder.chmod(0o755)
        # Sorted as people sort: where the tables did not ask for bytes, the order would differ from SQLite's.
        self._as_user("initdb", "-N", "-D", self.folder / "data", "-U", "owner", "-A", "trust", "--encoding=UTF8", "--locale=C.UTF-8",
                      "--locale-provider=icu", "--icu-locale=en-US")
        self.start()

    def _as_user(self, tool, *words):
        command = [str(self.bin / tool), *map(str, words)]
        env = {**os.environ, "LC_ALL": "C.UTF-8"}
        how = {"user": self.user, "group": pwd.getpwnam(self.user).pw_gid, "extra_groups": []} if os.getuid() == 0 else {}
        done = subprocess.run(command, capture_output=True, text=True, timeout=120, cwd="/tmp", env=env, **how)
        must(done.returncode == 0, f"{command}: {done.stderr}{done.stdout}")

    def start(self):
        # fsync off: processes die here, and no power is lost.
        self._as_user("pg_ctl", "-D", self.folder / "data", "-w", "-l", self.folder / "log", "-o",
                      f"-p {PORT} -c fsync=off -c listen_addresses='' -c unix_socket_directories='{self.folder}'", "start")

    def crash(self):
        """Every process of it at once, with nothing written out: the next start recovers from the log."""
        self._as_user("pg_ctl", "-D", self.folder / "data", "-m", "immediate", "stop")

    def conninfo(self, database, user="owner"):
        return f"host={self.folder} port={PORT} dbname={database} user={user}"

    def sql(self, database, statement, user="owner"):
        """Rows as lists of texts, or the first line of the refusal."""
        done = subprocess.run([str(self.bin / "psql"), "-X", "-At", "-F", "\t", "-v", "ON_ERROR_STOP=1", "-d", self.conninfo(database, user), "-c", statement],
                              capture_output=True, text=True, timeout=120)
        if done.returncode != 0:
            return done.stderr.splitlines()[0]
        return [line.split("\t") for line in done.stdout.splitlines()]

    def end(self):
        try:
            if (self.folder / "data/postmaster.pid").exists():
                self.crash()
        finally:
            shutil.rmtree(self.folder, ignore_errors=True)
