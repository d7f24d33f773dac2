# SPDX-License-Identifier: GPL-3.0-or-later
"""A small property with money tables written short, for the tests of money by command."""
from shed import ShedTest

HEAD = "what,ref,outlet,item,from,charge,on,flat,tiers,up,closes,at,result,amount"
HALL = ("outlet,,Hall,,,,,,,,,,,",
        "charge,,Hall,,2026-01-01,listing,offer,2.00,,,,,,",
        "charge,,Hall,,2026-01-01,commission,price,,:10%,,,,,")
SALES = ("offer,A1,Hall,Press + Crates,,,,,,2026-04-20,2026-05-01T20:00,,,",
         "result,A1,,,,,,,,,,2026-05-01,sold,100.01",
         "payment,A1,,,,,,,,,,2026-05-01,,60.00",
         "sale,S1,,Scales,,,,,,,,2026-05-01,,35.00",
         "payment,S1,,,,,,,,,,2026-05-01,,35.00",
         "collected,S1,,,,,,,,,,2026-05-01,,",
         "cost,,,,,,,,,,,2026-05-01,,12.00")


class MoneyRules(ShedTest):
    def setUp(self):
        super().setUp()
        self.add_property()
        for name in ("Press", "Crates", "Scales"):
            self.add_item(name, "Press house", "--asking", "50")

    def table(self, *lines, head=HEAD):
        path = self.path("table.csv")
        with open(path, "w", encoding="utf-8") as out:
            out.write("\n".join((head, *lines)) + "\n")
        return path

    def book(self, *lines, head=HEAD):
        return self.good("book", self.catalogue, self.table(*lines, head=head)).out

    def refused(self, says, *lines, head=HEAD):
        before = self.total()
        self.bad(1, "book", self.catalogue, self.table(*lines, head=head), says=says)
        self.assertEqual(self.total(), before)

    def takings(self, *more):
        return self.good("takings", self.catalogue, "--json", *more).json()

    def total(self):
        return self.takings()["total"]
