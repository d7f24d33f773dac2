# SPDX-License-Identifier: GPL-3.0-or-later
"""The windows in which offers, sales, scrap and shares are entered, looked at as those of what is handed out: on small and large
screens, with letters twice as large, light, dark and mirrored.
"""

import datetime
import unittest

import test_money
import test_out_forms
from driver import choose, has, key, shedwalk, until

UP = f"{datetime.date.today() + datetime.timedelta(days=9)}T20:00"
BOOK = f"""what,outlet,kind,from,charge,on,tiers,ref,item,start,up,at,result,amount,buyer,class,trip,remark
outlet,Hill Road,auction,,,,,,,,,,,,,,,
charge,Hill Road,,2026-01-01,commission,price,10%,,,,,,,,,,,
outlet,Yard at the ford,scrap yard,,,,,,,,,,,,,,,
offer,Hill Road,,,,,,A1,Screw press,300.00,2026-04-14,{UP},,,,,,
offer,Hill Road,,,,,,A2,Clay pots,20.00,2026-04-14,2026-04-20T20:00,,,,,,
result,,,,,,,A2,,,,2026-04-20T20:00,sold,31.00,Bea Buyer,,,
cost,,,,,,,,,,,2026-04-11,,20.00,,,1,fuel
"""


class MoneyForms(test_out_forms.Forms):
    TREE = "money"

    def setUp(self):
        super().setUp()
        table = self.folder / "book.csv"
        table.write_text(BOOK, encoding="utf-8")
        shedwalk("book", self.catalogue, table)
        shedwalk("item", "move", self.catalogue, 2, "For scrap")

    def section(self, window, name):
        key("alt+3")
        window.wait("radio button", name).do_action(0)

    press = test_money.MoneyTest.press

    def form(self, window, button, title, field):
        self.press(window, button)
        window.wait("text", field)
        return self.dialog(window, title)

    # ---- each of them opened ----

    def open_price(self, window):
        self.section(window, "Running")
        return self.form(window, "Price…", "New price", "Price")

    def open_enquiry(self, window):
        self.section(window, "Running")
        return self.form(window, "Enquiry…", "Enquiry", "Who")

    def open_result(self, window):
        self.section(window, "Running")
        return self.form(window, "Result…", "Result", "Amount")

    def open_sale(self, window):
        self.section(window, "Sales")
        return self.form(window, "Sale without an offer…", "Sale without an offer", "Amount")

    def open_payment(self, window):
        self.section(window, "Sales")
        return self.form(window, "Payment…", "Payment", "Amount")

    def open_refund(self, window):
        self.section(window, "Sales")
        return self.form(window, "Refund…", "Refund or fall-through", "Amount")

    def open_collected(self, window):
        self.section(window, "Sales")
        return self.form(window, "Collected…", "Collected", "On day")

    def open_fee(self, window):
        self.section(window, "Sales")
        return self.form(window, "Fee as charged…", "Fee as charged", "Amount")

    def open_outlet(self, window):
        self.section(window, "Outlets")
        return self.form(window, "New outlet…", "Outlet", "Name")

    def open_charge(self, window):
        self.section(window, "Outlets")
        return self.form(window, "Add a charge…", "Charge", "Name")

    def open_docket(self, window):
        self.section(window, "Scrap")
        return self.form(window, "Docket…", "Docket of a yard", "Docket number")

    def open_rate(self, window):
        self.section(window, "Scrap")
        return self.form(window, "Yard rate…", "What a yard pays or charges", "Class")

    def open_load(self, window):
        self.section(window, "Scrap")
        return self.form(window, "Load…", "A load to the yard", "Cartage")

    def open_round(self, window):
        self.section(window, "Running")
        return self.form(window, "Round…", "Round", "Round")

    def open_statement(self, window):
        file = self.folder / "statement.csv"
        file.write_text("Lot No;Sold on;Hammer;We keep\nA2;2026-04-20;31.00;4.50\nZ9;2026-04-20;5.00;1.00\n", encoding="utf-8")
        self.section(window, "Sales")
        self.press(window, "Statement…")
        # GTK's own chooser may reach from a small screen: its button is pressed where no pointer comes
        window.wait("file chooser", "Statement of an outlet, as CSV")
        key("ctrl+l")
        test_money.put(until("its name", lambda: next((node for node in test_money.texts(window.app) if has(node, "FOCUSED")), None)),
                       str(file))
        window.wait("push button", "Read it").do_action(0)
        window.wait("push button", "Enter it")
        for field, heading in (("Reference", "Lot No"), ("Day", "Sold on"), ("Price", "Hammer"), ("Fees", "We keep")):
            choose(window, field, heading)
        window.wait("label", lambda text: text.startswith("1 of 2 rows matched."))
        return self.dialog(window, "Statement of an outlet")

    EACH = (("price", open_price), ("enquiry", open_enquiry), ("result", open_result), ("sale", open_sale),
            ("payment", open_payment), ("refund", open_refund), ("collected", open_collected), ("fee", open_fee),
            ("outlet", open_outlet), ("charge", open_charge), ("docket", open_docket), ("rate", open_rate), ("load", open_load),
            ("round", open_round), ("statement", open_statement))


if __name__ == "__main__":
    unittest.main()
