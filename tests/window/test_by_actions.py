# SPDX-License-Identifier: GPL-3.0-or-later
"""A closing night for somebody who sees nothing of it: what assistive technology names is read, texts are set and actions done
through AT-SPI alone. No key is pressed, no pointer moved, no place on the screen asked for."""

import unittest.mock

import driver
from driver import has, shedwalk, until
from test_offer import OfferTest

NBSP = "\N{NO-BREAK SPACE}"


def never(*words):
    raise AssertionError(f"a key or the pointer: {words}")


def act(node):
    """The only action that it has, or its first: press, activate, select."""
    assert node.get_n_actions() > 0, f"{node.get_role_name()} {driver.name_of(node)!r} has no action"
    node.do_action(0)


class NightByActions(OfferTest):
    def setUp(self):
        super().setUp()
        for name in ("xdo", "extents"):
            patch = unittest.mock.patch.object(driver, name, never)
            patch.start()
            self.addCleanup(patch.stop)

    @staticmethod
    def press(window, name):
        button = window.wait("push button", name)
        until(f"{name} to be had", lambda: has(button, "SENSITIVE"))
        act(button)

    @staticmethod
    def enter(window, field_name, text):
        """Set, read back, and taken by the field's own action, as Enter would."""
        field = window.wait("text", field_name)
        until(f"{field_name} to be had", lambda: has(field, "SENSITIVE") and has(field, "EDITABLE"))
        field.set_text_contents(text)
        until("what was set", lambda: field.get_text(0, -1) == text)
        act(field)

    @staticmethod
    def go_to(window, item):
        act(window.row("Offers of the night", item))
        window.wait("text", f"Price for {item}")

    def test_interest_closes_verdicts_a_taken_back_entry_and_totals(self):
        self.put_up(5, 60)
        window = self.open()
        page = window.wait("radio button", "On offer")
        act(page)
        window.wait("list", "Offers of the night")
        window.wait("label", "Closing from 26 April 2026")
        window.wait("label", "0 sold, 0 no sale, 5 to come")
        # interest beforehand
        window.wait("text", "Price for Screw press")
        self.press(window, "Interest")
        self.enter(window, "Interest in Screw press", "120 8 3 45.50")
        self.enter(window, "Interest in Sack truck", "14 2 0 0")
        self.says(window, "Screw press", "120 looks, 8 followers, 3 bids at 45.50")
        self.says(window, "Sack truck", "14 looks, 2 followers")
        self.press(window, "Interest")
        # the closes
        self.go_to(window, "Screw press")
        self.enter(window, "Price for Screw press", "120.50")
        self.says(window, "Screw press", "Sold for 120.50")
        window.wait("text", "Price for Sack truck")
        self.press(window, "No sale")
        self.says(window, "Sack truck", "No sale")
        self.enter(window, "Price for Clay pots", "60")
        self.says(window, "Clay pots", "Sold for 60.00")
        window.wait("text", "Price for Thing 4")
        self.press(window, "No sale")
        self.says(window, "Thing 4", "No sale")
        window.wait("text", "Price for Thing 5")
        self.press(window, "For scrap")
        self.says(window, "Thing 5", "No sale, for scrap")
        # verdicts for those that did not sell
        self.go_to(window, "Sack truck")
        self.press(window, "Bring home")
        self.says(window, "Sack truck", "No sale, bring home")
        # a wrong entry: it was another's price
        self.go_to(window, "Clay pots")
        self.press(window, "Take back")
        self.says(window, "Clay pots", "Running")
        window.wait("label", "1 sold, 3 no sale, 1 to come")
        window.wait("label", f"120.50{NBSP}NZD before fees, 108.45{NBSP}NZD after")
        self.enter(window, "Price for Clay pots", "66")
        self.says(window, "Clay pots", "Sold for 66.00")
        # the running total: 186.50 less 12.05 and 6.60
        window.wait("label", "2 sold, 3 no sale, 0 to come")
        window.wait("label", f"186.50{NBSP}NZD before fees, 167.85{NBSP}NZD after")
        self.assertEqual(self.states(), ["On offer"] * 5)
        self.press(window, "Confirm 5")
        window.told("5 results confirmed")
        self.assertEqual(self.states(), ["Sold", "Bring home", "Sold", "No sale", "For scrap"])
        total = shedwalk("takings", self.catalogue, "--json")["total"]
        self.assertEqual((total["proceeds"], total["fees"]), (18650, 1865))
        self.says(window, "Thing 4", "No sale")
        # what was left for later, one by one
        act(window.wait("radio button", "Unsold"))
        window.wait("label", "1 of 1")
        self.press(window, "Keep")
        window.told("Thing 4: keep")
        self.assertEqual(self.states()[3], "Kept")
        self.press(window, "Undo")
        window.told("Undone: ")
        self.assertEqual(self.states()[3], "No sale")
