"""The outbox against a mail server on the loopback address: under TLS or not at all, once, the same bytes at each try."""
import email
from email import policy

from mail_server import Box, Scripted, Server, authority, free_port
from program import Folder, must


def demo(seed):
    folder = Folder(start="2026-11-25T09:00:00+05:00")
    made = run_demo(folder, seed)
    return folder, made


def run_demo(folder, seed):
    answer = folder.run("demo", "--into", folder.data, "--seed", seed, "--json", expect=0)
    return answer.json


def the_message(folder):
    messages = folder.json("post", "list")["messages"]
    must(len(messages) == 1, f"one message was queued, not {messages}")
    return messages[0]


def send(folder, url, *more, expect=4):
    folder.minutes += 1
    return folder.run("post", "send", "--server", url, *more, expect=expect)


# ---- one message through every trouble, then delivered
folder, made = demo(1)
ca, context = authority(folder.path, "own")
other_ca, _ = authority(folder.path, "other")
_, wrong_host = authority(folder.path, "elsewhere", host="DNS:mail.example.org")
password = folder.path / "password.txt"
password.write_text("right horse\n")
wrong_password = folder.path / "wrong.txt"
wrong_password.write_text("wrong horse\n")
first = the_message(folder)
must(first["state"] == "waiting" and first["tries"] == 0 and first["next_try"] is None, first)
folder.run("post", "save", folder.path / "saved", expect=0)
saved = next((folder.path / "saved").glob("*.eml")).read_bytes()
tries = 0


def expect_state(state, said="", box=None):
    global tries
    tries += 1
    message = the_message(folder)
    must(message["state"] == state, f"{message}, expected {state}")
    must(message["tries"] == tries, f"{message}: expected {tries} tries")
    must(said in (message["last_answer"] or ""), f"{message['last_answer']} does not say \"{said}\"")
    must((message["next_try"] is not None) == (state == "waiting"), message)
    must(message["message"] == first["message"], "the message took another id")
    must("@example.org" not in (message["last_answer"] or ""), f"the answer keeps the address: {message['last_answer']}")
    if box is not None:
        must(not box.kept, f"{state}, but the server has it")
    return message


send(folder, f"smtp://127.0.0.1:{free_port()}")
expect_state("waiting", "was not reached")

box = Box()
with Server(box) as url:
    send(folder, url)
    expect_state("cannot send", "offers no encryption", box)
    must(box.seen == [], "something was said before TLS")

box = Box()
with Server(box, context) as url:
    send(folder, url, "--ca", other_ca)
    expect_state("cannot send", "is not trusted", box)
    send(folder, url)
    expect_state("cannot send", "is not trusted", box)
    must(box.seen == [], "something was said to a server that is not trusted")

box = Box()
with Server(box, wrong_host) as url:
    send(folder, url, "--ca", folder.path / "elsewhere.ca.pem")
    expect_state("cannot send", "is not trusted", box)

box = Box()
with Server(box, context) as url:
    send(folder, url, "--ca", folder.path / "missing.pem")
    expect_state("cannot send", "certificate to trust cannot be read", box)

# What is refused before the server was told of a message is the connection, not the message: RFC 5321, 3.1 (554 as a greeting), 3.2
# (500 or 502 at EHLO), RFC 3207, 4 (454). HELO would follow, but without TLS nothing more is said.
for replies, said in ((["554 no mail here"], []), (["220 hello", "554 not you"], ["EHLO"]), (["220 hello", "502 what"], ["EHLO"]),
                      (["220 hello", "250-fine\r\n250 STARTTLS", "454 not now"], ["EHLO", "STARTTLS"])):
    scripted = Scripted(*replies)
    with scripted as url:
        send(folder, url)
    answer = expect_state("waiting", replies[-1])["last_answer"]
    must(scripted.said == said, f"to {replies} was said {scripted.said}")
    must(("turned this connection away" in answer) == (replies[-1][0] == "5"), answer)

box = Box(data="451 come back tomorrow, <ansa.velmorrin@example.org>")
with Server(box, context) as url:
    send(folder, url, "--ca", ca)
    expect_state("waiting", "451", box)

box = Box()
with Server(box, context, password=b"right horse") as url:
    send(folder, url, "--ca", ca, "--user", "office", "--password-file", wrong_password)
    expect_state("cannot send", "user name or password", box)
    must("wrong horse" not in folder.run("post", "list").out, "the password is shown")
    sent = send(folder, url, "--ca", ca, "--user", "office", "--password-file", password, expect=0)
    expect_state("sent", "250 kept")
    must(box.kept == [saved], "the server has other bytes than the saved file, or not once")
    send(folder, url, "--ca", ca, "--user", "office", "--password-file", password, expect=0)
    must(len(box.kept) == 1, "a sent message was sent again")
must(the_message(folder)["state"] == "sent", "sent once, sent for good")

mail = email.message_from_bytes(box.kept[0], policy=policy.default)
must(mail["Message-ID"].strip("<>") == first["message"], "another Message-ID on the wire")
must(mail["To"].addresses[0].addr_spec == "ansa.velmorrin@example.org", mail["To"])
parts = {part.get_content_type(): part for part in mail.iter_attachments()}
report = (folder.data / "report.pdf").read_bytes()
must(parts["application/pdf"].get_payload(decode=True) == report, "the attached report is not the report")
must(b"BEGIN:VEVENT" in parts["text/calendar"].get_payload(decode=True), "no care dates in the calendar")
must(folder.json("attest", "--journal")["genuine"], "the journal does not verify")
journal = b"".join(f.read_bytes() for f in folder.data.glob("journal.db*"))
for secret in (b"ansa.velmorrin@example.org", b"wrong horse", b"right horse"):
    must(secret not in journal, f"the journal holds {secret}")

# ---- refused for good: never again
certificates = folder  # kept, or its files go away with it
folder, made = demo(2)
box = Box(rcpt="550 no such person here")
with Server(box, context) as url:
    send(folder, url, "--ca", ca)
    message = the_message(folder)
    must(message["state"] == "refused" and "550" in message["last_answer"], message)
    send(folder, url, "--ca", ca, expect=0)
    must(len([s for s in box.seen if "@" in s]) == 1, "a refused message was tried again")

# ---- TLS from the first byte
folder, made = demo(3)
box = Box()
with Server(box, context, at_once=True) as url:
    send(folder, url, "--ca", other_ca)
    must(the_message(folder)["state"] == "cannot send" and not box.kept, "sent to a server that is not trusted")
    send(folder, url, "--ca", ca, expect=0)
    must(the_message(folder)["state"] == "sent" and len(box.kept) == 1, "not delivered under smtps")
must(box.kept[0] == (folder.data / "message.eml").read_bytes(), "other bytes than message.eml")
print("delivered once under STARTTLS and under TLS; nothing was said without trust")
