from tests.support import payload_probes


def test_the_table_the_phone_reads_says_what_the_server_does() -> None:
    assert payload_probes.FILE.read_text() == payload_probes.text(), "run: python -m tests.support.payload_probes"
