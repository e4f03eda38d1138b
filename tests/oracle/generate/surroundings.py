"""What is laid over a finished robot: styles of its devices, harnesses, air, insulation, duty. With dice of its own."""

from robot import Quantity

from .maker import Maker


class Surroundings(Maker):
    """What came later."""

    def devices_of_all_styles(self):
        """Other styles, speeds, and written breaking capacities."""
        for thing in self.robot.things.values():
            if thing.kind == "fuse":
                if thing.word("style") == "cartridge" and self.later.random() < 0.6:
                    thing.ratings["speed"] = self.later.choice(["fast", "slow"])
                elif thing.word("style") == "bolt-down" and self.later.random() < 0.15:
                    thing.ratings["style"] = self.later.choice(["strip", "class-t", "blade"])
            if thing.kind == "breaker" and self.later.random() < 0.4:
                thing.ratings["style"] = self.later.choice(["thermal-magnetic", "thermal-magnetic", "magnetic"])
            if thing.kind in ("fuse", "breaker") or "built-in-fuse" in thing.ratings:
                if self.later.random() < 0.4:
                    thing.ratings["breaking-capacity"] = Quantity(self.later.choice([150, 300, 600, 1500, 3000]), "A")

    def looms(self):
        """Some neighbours in the text run together in a harness."""
        wires = self.robot.wires
        for number in range(1, self.later.choice([0, 0, 1, 2]) + 1):
            first = self.later.randrange(len(wires))
            together = [wire for wire in wires[first : first + self.later.randrange(2, 9)] if "." not in wire.name]
            if len(together) < 2:
                continue
            self.robot.bundles[f"H{number}"] = self.later.choice([1, 2, 3, 5, 8, 25])
            for wire in together:
                wire.name = f"H{number}.{wire.name}"

    def surroundings(self):
        """The class of the insulation, the air, and for how much of the time a mode draws."""
        if self.later.random() < 0.5:
            self.robot.insulation = self.later.choice([60, 75, 90, 105, 125, 150, 200])
            self.robot.ambient = float(self.later.choice([20, 25, 35, 40, 50]))
        for mode in self.robot.modes:
            if self.later.random() < 0.4:
                mode.duty = Quantity(self.later.choice([10, 25, 50, 80]), "%")
