"""Instruments that are none, at the other end of a pseudo-terminal or of a connection. Modbus is answered by another library (pymodbus)."""
import os, pty, select, socket, struct, threading, tty

from pymodbus.datastore import ModbusSequentialDataBlock, ModbusSlaveContext
from pymodbus.factory import ServerDecoder
from pymodbus.framer.rtu_framer import ModbusRtuFramer
from pymodbus.framer.socket_framer import ModbusSocketFramer


class Cable:
    """`answer` gets what came since the last answer, and gives bytes, b"" for not yet, or None to be unplugged."""

    def __init__(self, answer):
        self.near, self.far = pty.openpty()
        tty.setraw(self.far)
        self.port, self.answer, self.heard, self.stop = os.ttyname(self.far), answer, b"", False
        self.thread = threading.Thread(target=self.talk, daemon=True)
        self.thread.start()

    def talk(self):
        pending = b""
        while not self.stop:
            if not select.select([self.near], [], [], 0.02)[0]:
                continue
            came = os.read(self.near, 512)
            pending, self.heard = pending + came, self.heard + came
            said = self.answer(pending)
            if said is None:
                break
            if said:
                pending = b""
                os.write(self.near, said)
        os.close(self.near)
        os.close(self.far)

    def close(self):
        self.stop = True
        self.thread.join()


class Network:
    """The same at an address of this machine."""

    def __init__(self, answer):
        self.listening = socket.create_server(("127.0.0.1", 0))
        self.port, self.answer = f"127.0.0.1:{self.listening.getsockname()[1]}", answer
        threading.Thread(target=self.serve, daemon=True).start()

    def serve(self):
        while True:
            caller, _ = self.listening.accept()
            pending = b""
            while came := caller.recv(512):
                pending += came
                if said := self.answer(pending):
                    pending = b""
                    caller.sendall(said)
            caller.close()


def modbus(framer_kind, address, registers):
    """Answers questions for `registers`, {number: value}, in both tables; asked each time, so that they may change."""
    framer = framer_kind(ServerDecoder())

    def answer(question):
        block = ModbusSequentialDataBlock(0, [registers.get(n, 0) for n in range(200)])
        said = []

        def execute(request):
            reply = request.execute(ModbusSlaveContext(hr=block, ir=block, zero_mode=True))
            reply.unit_id = reply.slave_id = address
            reply.transaction_id, reply.protocol_id = request.transaction_id, 0
            said.append(framer.buildPacket(reply))

        framer.processIncomingPacket(question, execute, address, single=True)
        return b"".join(said)

    return answer


def on_cable(address, registers):
    return modbus(ModbusRtuFramer, address, registers)


def in_network(address, registers):
    return modbus(ModbusSocketFramer, address, registers)


def lines(answers):
    """Each whole line is answered by `answers[line]`, a text or what gives one; an unknown one by silence."""

    def answer(question):
        if not question.endswith(b"\n"):
            return b""
        said = ""
        for line in question.decode().split():
            found = answers.get(line, "")
            found = found() if callable(found) else found
            if found is None:
                return None
            said += found
        return said.encode()

    return answer


def two_registers(number, kind):
    """High first."""
    return struct.unpack(">HH", struct.pack(">" + kind, number))
