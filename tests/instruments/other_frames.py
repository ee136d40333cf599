"""Requests for registers and the answers to them, made by another library (pymodbus), a line each: table, address, first register, count,
then in hexadecimal digits the request for a cable and for a network, and the answers. Every register holds its own number."""
import random, struct

from pymodbus.datastore import ModbusSequentialDataBlock, ModbusSlaveContext
from pymodbus.factory import ServerDecoder
from pymodbus.framer.rtu_framer import ModbusRtuFramer
from pymodbus.framer.socket_framer import ModbusSocketFramer
from pymodbus.register_read_message import ReadHoldingRegistersRequest, ReadInputRegistersRequest

KINDS = {"holding": ReadHoldingRegistersRequest, "input": ReadInputRegistersRequest}
block = ModbusSequentialDataBlock(0, [n & 0xFFFF for n in range(65536)])
store = ModbusSlaveContext(hr=block, ir=block, zero_mode=True)
cable, network = ModbusRtuFramer(ServerDecoder()), ModbusSocketFramer(ServerDecoder())


def packet(framer, message, address):
    message.unit_id = message.slave_id = address
    message.transaction_id = 0
    message.protocol_id = 0
    return framer.buildPacket(message).hex()


dice = random.Random(17)
for _ in range(200):
    table = dice.choice(sorted(KINDS))
    address, count = dice.randint(1, 247), dice.choice((1, 2, 3, 10, 125))
    first = dice.randint(0, 65536 - count)
    request = KINDS[table](first, count, unit=address)
    answer = request.execute(store)
    print(table, address, first, count, packet(cable, request, address), packet(network, request, address),
          packet(cable, answer, address), packet(network, answer, address))
