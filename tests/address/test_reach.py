"""Under which addresses the page is found, from made-up files of the kernel."""

import ipaddress

import pytest

from station.address.interfaces import numbers
from station.address.reach import addresses

TRIE = """Main:
  +-- 0.0.0.0/0 3 0 5
        |-- 127.0.0.1
           /32 host LOCAL
        |-- 172.29.0.1
           /32 host LOCAL
        |-- 192.0.2.0
           /24 link UNICAST
        |-- 192.0.2.17
           /32 host LOCAL
        |-- 169.254.9.9
           /32 host LOCAL
        |-- 192.0.2.255
           /32 link BROADCAST
Local:
        |-- 192.0.2.17
           /32 host LOCAL
        |-- 300.1.1.1
           /32 host LOCAL
"""
ROUTE = """Iface\tDestination\tGateway \tFlags\tRefCnt\tUse\tMetric\tMask\tMTU\tWindow\tIRTT
wlan0\t00000000\t010200C0\t0003\t0\t0\t600\t00000000\t0\t0\t0
wlan0\t000200C0\t00000000\t0001\t0\t0\t600\t00FFFFFF\t0\t0\t0
made0\t00001DAC\t00000000\t0001\t0\t0\t0\t0000FFFF\t0\t0\t0
"""
INET6 = """00000000000000000000000000000001 01 80 10 80       lo
20010db800170000000000000000004a 03 40 00 00    wlan0
20010db8001700000000000000000bad 03 40 00 01    wlan0
20010db8001700000000000000000bae 03 40 00 60    wlan0
fe8000000000000000fc00fffe000001 03 40 20 80    wlan0
"""
V4 = ipaddress.IPv4Address("192.0.2.17")
OTHER = ipaddress.IPv4Address("172.29.0.1")
V6 = ipaddress.IPv6Address("2001:db8:17::4a")


def laid(root, trie=TRIE, route=ROUTE, inet6=INET6):
    folder = root / "proc/self/net"
    folder.mkdir(parents=True)
    for name, text in (("fib_trie", trie), ("route", route), ("if_inet6", inet6)):
        (folder / name).write_text(text)
    return numbers(root)


def test_the_number_in_the_network_with_a_way_out_comes_first_and_passing_ones_are_left_out(tmp_path):
    assert laid(tmp_path) == (V4, OTHER, V6)


def test_without_a_way_out_the_numbers_are_still_told(tmp_path):
    assert laid(tmp_path, route="Iface\n", inet6="") == (OTHER, V4)


def test_without_the_kernel_s_files_no_number_is_known(tmp_path):
    assert numbers(tmp_path) == ()


@pytest.mark.parametrize("nonsense", ["", "x" * 500, "a b c d e f g h\n" * 3, "wlan0\tzz\tzz\tzz\t0\t0\t0\tzz\t0\n"])
def test_files_that_make_no_sense_are_passed_over(tmp_path, nonsense):
    assert laid(tmp_path, trie=nonsense, route=nonsense, inet6=nonsense) == ()


def urls(listens_on, host_name="Tarebell.lan", port=8060, **how):
    return [one.url for one in addresses(listens_on, port, host_name, (V4, V6), **how)]


def test_the_name_comes_first_then_the_numbers():
    assert urls("0.0.0.0") == ["http://tarebell.local:8060/", "http://192.0.2.17:8060/"]
    assert urls("::")[-1] == "http://[2001:db8:17::4a]:8060/"


def test_a_page_for_one_number_is_found_under_that_alone():
    assert urls("192.0.2.17") == ["http://192.0.2.17:8060/"]
    assert urls("bench.example") == ["http://bench.example:8060/"]


@pytest.mark.parametrize("host", ["127.0.0.1", "localhost", "::1", "127.8.8.8"])
def test_a_page_for_this_computer_only_has_no_address_for_a_phone(host):
    assert urls(host) == []


@pytest.mark.parametrize("name", ["localhost", "", "-x", "bench mill", "é"])
def test_a_host_name_that_no_phone_can_ask_for_is_left_out(name):
    assert urls("0.0.0.0", name) == ["http://192.0.2.17:8060/"]


def test_the_usual_port_of_a_scheme_is_not_written():
    assert urls("0.0.0.0", port=443, scheme="https") == ["https://tarebell.local/", "https://192.0.2.17/"]
    assert urls("192.0.2.17", port=80) == ["http://192.0.2.17/"]
