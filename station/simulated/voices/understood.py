"""What the simulated scales understand: per family the requests for a reading, and those that do harm.

A request that is in neither list gets what the family says to unknown ones, mostly nothing.
"""

from __future__ import annotations

from collections.abc import Mapping

from station.simulated.voices.control import lf_flags_tare, lf_status, stx_status
from station.simulated.voices.ears import Ears, Ends, answering, words
from station.simulated.voices.letters import echo_label_reply, echo_mark, letter_first_reply
from station.simulated.voices.load import just

_SIGN = Ears(
    now=words("~P"),
    harmful=words("~T ~V ~U ~S ~Z ~O ~R ~K ~f0 ~q ~s"),
    # With automatic printing on it switches that off.
    harmful_while_streaming=words("~P"),
)
_OUTPUT_ONLY_WITH_KEYS = Ears(harmful=words("T t Z z C c"))

UNDERSTOOD: Mapping[str, Ears] = {
    "status-commas": Ears(
        Ends.CR_LF,
        now=words("Q SI"),
        when_stable=words("S ~P"),
        # Refusals are silent until the menu says otherwise. P is the on/off key, PRT the print key.
        harmful=words("P U PT PT: SIR C CAL EXC SMP ON OFF"),
        queries=answering(
            (b"?PT", b"PT,+000000.0  g\r\n"), (b"?SN", b"SN,000000001\r\n"), (b"?TN", b"TN,SIMULATED\r\n")
        ),
    ),
    "status-mode-commas": Ears(Ends.CR_LF, now=words("READ"), harmful=words("TARE ZERO"), unknown=just(b"ERR05\r\n")),
    "reply-letter": Ears(
        Ends.CR_LF,
        now=words("SI"),
        when_stable=words("S"),
        moving=b"S I\r\n",
        waits=False,
        harmful=words("SIR SR ZI TI TA TAC @"),
        queries=answering((b"I2", b'I2 A "SIMULATED 3000.0 g"\r\n'), (b"I4", b'I4 A "0000000001"\r\n')),
        unknown=just(b"ES\r\n"),
    ),
    "echo-mark": Ears(
        Ends.CR_LF,
        now=words("SI SUI"),
        when_stable=words("S SU"),
        moving=b"S A\r\n",
        harmful=words("C1 C0 CU1 CU0 UT"),
        obeyed=b"Z D\r\n",
        queries=answering((b"OT", b"OT       0.0 g  \r\n"), (b"PC", b"PC A S,SI,SU,SUI\r\n")),
        unknown=just(b"ES\r\n"),
        reply=echo_mark,
    ),
    "sign-16": _SIGN,
    "sign-22": _SIGN,
    "sign-26": _SIGN,
    "digits-tail": Ears(
        Ends.CR_LF,
        now=words("O8"),
        when_stable=words("O9"),
        harmful=words("O0 O1 O2 O3 O4 O5 O6 O7 T_ Z_"),
        obeyed=b"A00\r\n",
        unknown=just(b"E01\r\n"),
    ),
    "letter-first": Ears(
        Ends.CR_LF,
        now=words("D05 D07"),
        when_stable=words("D08"),
        harmful=words("Q C18 D01 D02 D03 D04 D06 D09 R T M + % mg PCS CT"),
        reply=letter_first_reply,
    ),
    "short-14": Ears(now=words("~p p"), harmful=words("~q ~s ~r ~t ~u q s r t u")),
    # The generation that takes single small letters.
    "blank-18": Ears(now=words("w"), when_stable=words("s"), harmful=words("t z")),
    "query-mark": Ears(
        Ends.CR_LF,
        now=words("IP P"),
        when_stable=words("SP"),
        harmful=words("T Z CP 0P nS CS AS"),
        obeyed=b"OK!\r\n",
        queries=answering((b"V", b"Version 1\r\n")),
        unknown=just(b"ES\r\n"),
    ),
    "lf-status-etx": Ears(
        Ends.CR,
        now=words("W H"),
        harmful=words("Z T U L X"),
        queries={b"S": lf_status},
        unknown=just(b"\n?\r\x03"),
    ),
    "lf-flags": Ears(
        Ends.LF_TO_CR,
        now=words("W"),
        when_stable=words("P"),
        harmful=words("R Z T"),
        queries={b"M": lf_flags_tare},
    ),
    "stx-weight-cr": Ears(
        now=words("W H"), harmful=words("Z E F A B L K"), queries=answering((b"E", b"\x02E\r")), unknown=stx_status
    ),
    "enq-five": Ears(now=frozenset({b"\x05"})),
    "soh-block": Ears(now=frozenset({b"\x11"}), queries=answering((b"\x05", b"\x06"))),
    "stx-bits": _OUTPUT_ONLY_WITH_KEYS,
    "stx-polarity": _OUTPUT_ONLY_WITH_KEYS,
    "status-letter-6": Ears(Ends.CR, now=words("d"), harmful=words("z t")),
    # The device number (1 here) and a letter.
    "xon-frame": Ears(
        now=frozenset({b"\x01s"}),
        harmful=frozenset({b"\x01t", b"\x01u", b"\x01c", b"\x01v"}),
        obeyed=b"\x06",
        lead=b"\x01",
    ),
    "hash-print": Ears(now=words("# p"), harmful=words("t z")),
    "echo-label": Ears(Ends.CR, now=words("SGW"), harmful=words("T Z"), reply=echo_label_reply),
    "diy-board": Ears(harmful=words("t T")),
}
"""Families that are not here take nothing in."""
