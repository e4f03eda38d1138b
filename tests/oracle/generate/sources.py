"""What a robot is fed from: banks of packs, supplies, chargers, generators."""

from constants import CHEMISTRIES
from robot import Quantity, quantity

from .loads import Loads
from .maker import Rail


class Sources(Loads):
    """Sources, and the rails that they make."""

    def packs(self):
        """One bank of packs on a pair of bars, and the rail that they make."""
        chemistry = self.dice.choice(list(CHEMISTRIES))
        nominal = CHEMISTRIES[chemistry][1]
        cells = self.dice.choice([n for n in (3, 4, 6, 7, 8, 10, 12) if 9 < n * nominal < 46])
        plus = self.dice.choice([self.block, self.stud])()
        minus = self.dice.choice([self.block, self.stud, self.chassis])()
        count = self.dice.choice([1, 1, 2, 2, 2, 3, 4])
        if self.later.random() < 0.08:
            return self.mains(plus, minus, cells * nominal)
        if cells * nominal < 23 and self.later.random() < 0.3:
            # Two of them on top of each other.
            middle = self.dice.choice([self.block, self.stud])()
            self.pack(chemistry, cells, middle, minus)
            self.pack(chemistry, cells, plus, middle)
            return Rail(plus, minus, 2 * cells * nominal, 30.0)
        for _ in range(count):
            self.pack(chemistry, cells, plus, minus)
        return Rail(plus, minus, cells * nominal, 20.0 + 10 * count)

    def mains(self, plus, minus, volts):
        """No pack at all: one or two supplies, or a generator."""
        for _ in range(self.later.choice([1, 1, 2])):
            kind = self.later.choice(["supply", "supply", "generator"])
            amps = Quantity(self.later.choice([15, 30, 60]), "A")
            if kind == "supply":
                limit = Quantity(round(amps.number * 1.25), "A") if self.later.random() < 0.5 else None
                source = self.thing(kind, "PSU", voltage=quantity(volts, "V"), current=amps, current_limit=limit)
            else:
                source = self.thing(kind, "GEN", style="alternator", voltage=quantity(volts, "V"),
                                    full=quantity(volts * 1.15, "V"), current=amps)
            self.wire(self.way_out(f"{source}.pos"), plus, 20)
            self.wire(f"{source}.neg", minus, 20)
        return Rail(plus, minus, volts, 12.0)

    def pack(self, chemistry, cells, plus, minus):
        """A pack, unlike its neighbours in charge, resistance or chemistry."""
        volts = CHEMISTRIES[chemistry]
        like = [other for other, row in CHEMISTRIES.items() if abs(row[1] - volts[1]) < 0.6]
        ratings = {"chemistry": self.dice.choice(like) if self.chance(0.4) else chemistry, "cells": Quantity(cells, "S")}
        if self.chance(0.8):
            ratings["resistance"] = self.about(4, 60, "mΩ")
        if self.chance(0.2):
            ratings["strings"] = Quantity(self.dice.choice([2, 3]), "P")
        if ratings["chemistry"] != chemistry or self.chance(0.35):
            # Packs in parallel may differ by 2 % when they are full; below that they differ as they like.
            shares = [self.dice.uniform(0.985, 1.0), self.dice.uniform(0.95, 1.0), self.dice.uniform(0.9, 1.0)]
            for key, cell, share in zip(("full", "voltage", "empty"), volts, shares):
                ratings[key] = quantity(cell * cells * share, "V", 4)
        if self.chance(0.1):
            ratings["built_in_fuse"] = Quantity(self.dice.choice([30, 40, 60]), "A")
        taps = self.chance(0.25)
        pack = self.thing("battery", "PACK", taps=taps or None, **ratings)
        top = self.way_out(f"{pack}.pos")
        self.wire(top, plus, 20)
        bottom = f"{pack}.neg"
        if self.chance(0.15):
            shunt = self.thing("shunt", "SH", current=Quantity(100, "A"), drop=Quantity(75, "mV"))
            self.wire(bottom, f"{shunt}.1", 20)
            bottom = f"{shunt}.2"
        self.wire(bottom, minus, 20)
        if taps:
            self.balance_leads(pack, cells, volts[1])

    def way_out(self, pole):
        """A device at a pole, sometimes with a plug or a diode behind it."""
        if self.chance(0.75):
            fuse = self.thing("fuse", "F", current=Quantity(self.dice.choice([40, 60, 80]), "A"), style="bolt-down")
            self.join(pole, f"{fuse}.line")
            pole = f"{fuse}.load"
        if self.chance(0.15):
            pole = self.through_plug(pole, 20)
        if self.chance(0.12):
            diode = self.thing("diode", "D", style=self.dice.choice(["schottky", "ideal", "silicon"]))
            self.wire(pole, f"{diode}.anode", 20)
            pole = f"{diode}.cathode"
        return pole

    def balance_leads(self, pack, cells, cell_volts):
        """Loads on taps: a small one between two taps, or between a tap and negative."""
        tap = self.dice.randrange(1, cells)
        volts = tap * cell_volts
        load = self.resistive(volts, 0.2)
        self.wire(f"{pack}.t{tap}", f"{load}.pos")
        self.wire(f"{load}.neg", f"{pack}.t0" if self.chance(0.7) else f"{pack}.neg")

    def further_source(self, rail):
        """A charger, bench supply or solar panel beside the packs."""
        kind = self.dice.choice(["charger", "supply", "generator"])
        if kind == "charger":
            volts = quantity(rail.volts * self.dice.uniform(1.0, 1.2), "V")
            source = self.thing(kind, "CHG", voltage=volts, current=self.about(1, 10, "A"))
        elif kind == "supply":
            limit = self.about(3, 12, "A") if self.chance(0.5) else None
            source = self.thing(kind, "PSU", voltage=quantity(rail.volts * self.dice.uniform(0.9, 1.15), "V"),
                                current=self.about(3, 10, "A"), current_limit=limit,
                                sinks=True if self.chance(0.3) else None)
        else:
            volts = rail.volts * self.dice.uniform(1.0, 1.2)
            source = self.thing(kind, "SUN", style="solar", voltage=quantity(volts, "V"),
                                full=quantity(volts * self.dice.uniform(1.1, 1.3), "V"), current=self.about(1, 6, "A"))
        plus = f"{source}.pos"
        if self.chance(0.4):
            diode = self.thing("diode", "D", style=self.dice.choice(["schottky", "silicon"]))
            self.wire(plus, f"{diode}.anode", 10)
            plus = f"{diode}.cathode"
        self.wire(plus, self.branch(rail, 8) if self.chance(0.5) else rail.plus, 10)
        self.wire(f"{source}.neg", rail.minus, 10)

    def island(self, rail):
        """A pack and a load that nothing joins to the rest."""
        pack = self.thing("battery", "PACK", chemistry="nimh", cells=Quantity(self.dice.choice([4, 6, 10]), "S"))
        load = self.steady(self.robot.things[pack].base("cells") * 1.2, 0.2)
        self.wire(f"{pack}.pos", f"{load}.pos")
        self.wire(f"{load}.neg", f"{pack}.neg")
