"""A mail on its way under TLS while the network fails: which calls are made to fail, and what must be true afterwards.

A mail is sent where the server acknowledged it and nowhere else; one that is not sent lies in the outbox and goes out with the
next try. One whose acknowledgement was lost goes out twice, the same bytes under the same Message-ID: better twice than never.
"""
import re, socket, threading, time

from mail_server import Box, Server, authority
from program import must

# What each call may answer, beside the errors: a receive of nothing is a peer that has hung up.
FORCED = {"socket": ("error=EMFILE",), "connect": ("error=ECONNREFUSED", "error=ETIMEDOUT"), "poll": ("error=EINTR",),
          "send": ("error=ECONNRESET", "error=EPIPE"), "receive": ("error=ECONNRESET", "retval=0")}
SENDS, RECEIVES = ("sendto", "sendmsg", "write", "writev"), ("recvfrom", "recvmsg", "read", "readv")


class Call:
    def __init__(self, name, when, asked, done):
        self.name, self.when, self.asked, self.done = name, when, asked, done


def network_calls(lines):
    """The calls to the one socket of the internet that a trace shows, in their order: each the how-manieth of its name."""
    counts, found, socket_is, thread = {}, [], None, None
    for line in lines:
        call = re.match(r"(\d+)\s+(\w+)\((.*)", line)
        if not call:
            continue
        who, name, rest = call.groups()
        counts[who, name] = counts.get((who, name), 0) + 1
        made = re.match(r"AF_INET6?,.* = (\d+)$", rest) if name == "socket" else None
        if made:
            must(socket_is is None, "more than one connection was made")
            socket_is, thread = made[1], who
        mine = socket_is is not None and re.match(rf"\[?(\{{fd=)?{socket_is}\b", rest)
        if made or mine and who == thread and name in ("connect", "poll") + SENDS + RECEIVES:
            numbers = re.search(r"(?:, (\d+)(?:, [A-Z_0-9|]+, NULL, (?:0|NULL))?)?\)\s+= (-?\d+)", rest)
            found.append(Call(name, counts[who, name], int(numbers[1] or 0) if numbers else 0, int(numbers[2]) if numbers else 0))
    return found


def forced(calls):
    """Which calls must fail in every run of the suite: (stage, call, when, what it answers)."""
    sends, receives = [c for c in calls if c.name in SENDS], [c for c in calls if c.name in RECEIVES]
    body = [i for i, c in enumerate(calls) if c.name in SENDS and c.asked > 8000]
    must(len(body) > 2, "the mail did not go out in pieces")
    answer = next(c for c in calls[body[-1]:] if c.name in RECEIVES)
    one = lambda kind, stage, call: [(stage, call.name, call.when, how) for how in FORCED[kind]]
    first = lambda name: next(c for c in calls if c.name == name)
    picks = one("socket", "the socket", first("socket")) + one("connect", "the connection", first("connect"))
    picks += one("poll", "the wait for the connection", first("poll"))
    picks += one("send", "the first word", sends[0]) + one("receive", "the greeting", receives[0])
    picks += one("send", "the mail, in its middle", calls[body[len(body) // 2]]) + one("receive", "the acknowledgement", answer)
    # Bytes that are told to be sent and never are: TLS finds the gap.
    return picks + [("the mail, with a gap", calls[body[1]].name, calls[body[1]].when, "retval=5")]


class Post:
    """A server that takes mail, and what it acknowledged."""

    def __init__(self, folder):
        self.box = Box()
        self.ca, context = authority(folder, "mail")
        self.server = Server(self.box, context)

    def __enter__(self):
        self.url = self.server.__enter__()
        return self

    def __exit__(self, *_):
        self.server.__exit__()

    def words(self, url=None):
        return "post", "send", "--server", url or self.url, "--ca", self.ca

    def begin(self):
        self.box.kept.clear()

    def held_against(self, what, done, asked, again, wants=None):
        """`asked` tells the outbox as it is now; `again` sends once more, undisturbed; `wants` is the mail as it was saved."""
        message, = asked()
        kept = list(self.box.kept)
        must(message["state"] != "sent" or kept, f"{what}: said to be sent, and the server has nothing")
        must(done.returncode != 0 or message["state"] == "sent", f"{what}: exit 0 and {message['state']}")
        must(message["state"] != "refused", f"{what}: given up for good, though the server refused nothing")
        # One try that ended without an acknowledgement, or words on what the disk did.
        if done.returncode == 4 and message["tries"] > 0 and message["state"] != "sent":
            line = rf"^{re.escape(message['job'])}: (Waits; it will be tried again|Waits for a person)\. \S.{{20,}}"
            must(re.search(line, done.stderr, re.M), f"{what}: not told of which job, why, and what comes next: {done.stderr!r}")
        later = again()
        must(later.returncode == 0, f"{what}: the next try: exit {later.returncode} {later.stderr}")
        after, = asked()
        must(after["state"] == "sent" and self.box.kept, f"{what}: lost: {after}, {len(self.box.kept)} at the server")
        must(len(self.box.kept) <= 2, f"{what}: two tries sent it {len(self.box.kept)} times")
        must(message["state"] != "sent" or self.box.kept == kept, f"{what}: sent again after it was acknowledged")
        must(set(self.box.kept) == {wants}, f"{what}: other bytes than the saved mail")
        return len(self.box.kept) == 2  # the acknowledgement was lost


class Narrow:
    """A way to the server through which little goes at once, so that the kernel itself answers with short counts."""

    def __init__(self, url):
        self.to = int(url.rsplit(":", 1)[1])
        self.door = socket.socket()
        # Before it listens: what it accepts has the same small room. Small pieces, or the kernel takes a record whole or not at all.
        self.door.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
        self.door.setsockopt(socket.IPPROTO_TCP, socket.TCP_MAXSEG, 536)
        self.door.bind(("127.0.0.1", 0))
        self.door.listen()
        self.url = f"smtp://127.0.0.1:{self.door.getsockname()[1]}"
        threading.Thread(target=self.serve, daemon=True).start()

    def serve(self):
        while True:
            one, _ = self.door.accept()
            one.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
            other = socket.create_connection(("127.0.0.1", self.to))
            threading.Thread(target=self.carry, args=(one, other, 4096, 0.003), daemon=True).start()
            threading.Thread(target=self.carry, args=(other, one, 3, 0.001), daemon=True).start()

    @staticmethod
    def carry(source, target, at_once, pause):
        try:
            while some := source.recv(at_once):
                target.sendall(some)
                time.sleep(pause)
            target.shutdown(socket.SHUT_WR)
        except OSError:
            pass


def short_counts(calls):
    """How often less was sent, and less received, than was asked for."""
    less = lambda names: sum(c.name in names and 0 < c.done < c.asked for c in calls)
    return less(SENDS), less(RECEIVES)
