"""The words of the safety texts, and the record that holds one.

Every text is our own. Hazard, consequence and avoidance are three short sentences. That wood dust
causes cancer follows IARC Monographs vol. 62 (1995) and 100C (2012), Group 1; that oily rags heat
themselves follows the public advice of NFPA on oily rags. The rest is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal, get_args

Signal = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
SIGNALS: Final[tuple[Signal, ...]] = get_args(Signal)  # most severe first


@dataclass(frozen=True, slots=True)
class Caution:
    """One safety message; its three sentences together fill at most two lines of body text."""

    key: str
    signal: Signal
    hazard: str
    consequence: str
    avoidance: str

    @property
    def text(self) -> str:
        """Hazard, consequence and avoidance as one run of text."""
        return f"{self.hazard} {self.consequence} {self.avoidance}"


# key, signal, hazard, consequence, avoidance
_TEXTS: Final[tuple[tuple[str, Signal, str, str, str], ...]] = (
    # machines
    (
        "table saw",
        "WARNING",
        "The blade cuts hands and throws wood back.",
        "You can lose fingers or sight.",
        "Keep the guard and riving knife on, stand aside, use a push stick.",
    ),
    (
        "crosscut",
        "WARNING",
        "An off-cut caught between blade and stop is thrown.",
        "It can blind you or pull your hand in.",
        "Let the off-cut lie free; wait until the blade stands still.",
    ),
    (
        "ripping",
        "WARNING",
        "A board that closes on the blade kicks back.",
        "It can strike you hard.",
        "Use the riving knife, keep out of line with the blade, finish with a push stick.",
    ),
    (
        "hand saw",
        "CAUTION",
        "The saw can jump as it starts.",
        "It cuts fingers.",
        "Clamp the work and start with short, light strokes; guide with the knuckle high.",
    ),
    (
        "mitre saw",
        "WARNING",
        "The blade grabs bowed or loose wood.",
        "It can pull your hand into the cut.",
        "Hold the work against the fence, hands well clear, and let the blade stop before lifting it.",
    ),
    (
        "bandsaw",
        "WARNING",
        "The blade cuts whatever is in front of it.",
        "You can lose a finger.",
        "Set the guide just above the work and keep fingers out of the line of the cut.",
    ),
    (
        "jigsaw",
        "CAUTION",
        "The blade runs on below the work.",
        "It cuts a hand or leg held there.",
        "Clamp the work, keep hands above it, and let the blade stop before lifting the saw.",
    ),
    (
        "router",
        "WARNING",
        "The bit grabs when fed the wrong way or too deep.",
        "It can cut you badly.",
        "Clamp the work, feed against the turn of the bit, take several light passes.",
    ),
    (
        "router small part",
        "WARNING",
        "A small part is snatched out of the fingers.",
        "The bit takes the fingers along.",
        "Rout the edge on a bigger piece and cut it off after, or hold the part in a clamped jig.",
    ),
    (
        "round over router",
        "WARNING",
        "The bit pulls hard at corners and end grain.",
        "The work or the tool jumps and cuts.",
        "Clamp the work, rout end grain first, and never start at a corner.",
    ),
    (
        "router table",
        "WARNING",
        "The bit is bare above the table.",
        "It can cut you badly or throw the work.",
        "Guard the bit, feed against its turn, and never trap wood between bit and fence.",
    ),
    (
        "planer",
        "WARNING",
        "Short or loose stock is thrown back by the cutters.",
        "It can strike you hard.",
        "Feed no piece shorter than the rollers are apart; never stand or look in line with it.",
    ),
    (
        "jointer",
        "WARNING",
        "The cutter head is open when the work has passed.",
        "You can lose fingers.",
        "Keep the guard working, use push blocks, joint nothing short or thin.",
    ),
    (
        "drill",
        "CAUTION",
        "The bit grabs as it breaks through and turns the work.",
        "It can break or cut fingers.",
        "Clamp the work over a scrap board, take off rings and gloves, tie back hair.",
    ),
    (
        "dowelling",
        "CAUTION",
        "A long bit bends and grabs in a deep hole.",
        "It can twist the drill out of your hand.",
        "Clamp work and jig, clear the chips often, and mark the depth on the bit.",
    ),
    (
        "biscuit joiner",
        "WARNING",
        "The cutter springs out of the base when pushed.",
        "It can cut fingers badly.",
        "Clamp the work, keep both hands on the tool, and let the cutter stop before moving on.",
    ),
    (
        "dado stack",
        "WARNING",
        "A wide cutter pushes hard and the guard is off.",
        "You can lose fingers or be struck.",
        "Use a featherboard and push blocks; put the guard back after the cut.",
    ),
    (
        "tapering",
        "WARNING",
        "A tapered piece can turn and bind at the blade.",
        "It can be thrown at you.",
        "Hold it in a sled or jig with clamps, and keep both hands off the line of the cut.",
    ),
    (
        "sander",
        "CAUTION",
        "A belt or disc throws small work and takes skin.",
        "It can cut or burn fingers.",
        "Hold work against the fence or table and use the side of the disc that runs down.",
    ),
    # hand tools and hardware
    (
        "chisel",
        "CAUTION",
        "A chisel slips, most of all when it is dull.",
        "It cuts deep.",
        "Clamp the work, keep both hands behind the edge, and sharpen often.",
    ),
    (
        "knife",
        "CAUTION",
        "The blade leaves the line.",
        "It cuts the hand that holds the rule.",
        "Use several light strokes and keep the holding hand away from the line.",
    ),
    (
        "screws",
        "CAUTION",
        "The driver slips off a screw and points come through.",
        "It stabs the hand behind.",
        "Drill the lead hole, fit the right bit, keep hands out of the line of the screw.",
    ),
    (
        "nails",
        "CAUTION",
        "A nail or its chips can fly.",
        "They can injure an eye.",
        "Wear eye protection and hold small nails with pliers.",
    ),
    (
        "clamps",
        "CAUTION",
        "Clamps fall or slip under load.",
        "They crush fingers or feet.",
        "Tighten by hand only, in turn, and keep fingers out of the closing joint.",
    ),
    (
        "short part",
        "WARNING",
        "A short piece cannot be held safely at a machine.",
        "It brings the hand to the blade.",
        "Work it while it is part of a longer piece, or saw it by hand; cut it off last.",
    ),
    # dust and chemistry
    (
        "sanding dust",
        "WARNING",
        "Fine wood dust gets deep into nose and lungs.",
        "It can cause asthma and cancer over the years.",
        "Draw it off at the tool and wear a dust mask that seals.",
    ),
    (
        "glue",
        "CAUTION",
        "Wet glue can irritate eyes and skin.",
        "Rashes and sore eyes follow.",
        "Follow the label, wash it off at once, and keep the room aired.",
    ),
    (
        "epoxy",
        "CAUTION",
        "Resin and hardener get through the skin.",
        "They can cause a lasting allergy.",
        "Follow the label, wear the gloves it names, and mix only small amounts.",
    ),
    (
        "finish rags",
        "WARNING",
        "Rags with oil finish heat up by themselves.",
        "They can set the house on fire.",
        "Lay them flat outside to dry, or keep them under water in a lidded metal can. Follow the label.",
    ),
    (
        "solvent",
        "WARNING",
        "Solvent vapour burns and makes you dizzy.",
        "It can flash into fire or poison you.",
        "Keep flames and sparks away, air the room, wear what the label names.",
    ),
    (
        "hot iron",
        "CAUTION",
        "The iron and the melted glue are hot.",
        "They burn skin.",
        "Press the edge band down with a block of wood, never with a bare hand.",
    ),
    # the piece itself
    (
        "lifting",
        "CAUTION",
        "The piece is heavy or awkward at this stage.",
        "It can hurt your back or crush a hand.",
        "Lift it with a helper, legs bent, and clear the way first.",
    ),
    (
        "tip over",
        "WARNING",
        "Tall furniture tips when it is climbed on or its drawers are open.",
        "It can crush a child.",
        "Fix it to the wall with an anchor; keep heavy things low.",
    ),
    (
        "pinch",
        "CAUTION",
        "Parts that fold or slide close on fingers.",
        "They pinch or crush.",
        "Move them by the edges meant for it and keep children's hands away.",
    ),
    (
        "falling lid",
        "CAUTION",
        "A lid or flap that is let go falls shut.",
        "It can strike a head or crush fingers.",
        "Hold it until its stay carries it; try the stay before anyone reaches under.",
    ),
    (
        "falling",
        "WARNING",
        "It can slip or tip under a person.",
        "A fall can break bones.",
        "Stand it flat on a dry floor, step on the middle, and never on an edge.",
    ),
    (
        "load",
        "WARNING",
        "The strength figures are estimates; your wood and joints differ.",
        "A fall can break bones.",
        "Stand only in the middle, and try it low and carefully before you trust it.",
    ),
    (
        "wall hanging",
        "WARNING",
        "A screw that misses solid backing pulls out.",
        "The piece falls on whoever is below.",
        "Screw into studs or anchors rated for the load and the wall; look out for pipes and cables.",
    ),
    (
        "glass",
        "CAUTION",
        "Edges of glass are sharp and glass breaks.",
        "It cuts.",
        "Wear cut-proof gloves to carry it, and have the shop grind the edges.",
    ),
    (
        "child",
        "WARNING",
        "Furniture for children must obey safety laws on gaps, finishes and strength.",
        "A wrong gap can trap a head.",
        "Check your local rules first; have an expert look at it.",
    ),
    (
        "mains wiring",
        "DANGER",
        "Mains current kills.",
        "Wrong wiring also starts fires.",
        "Have a licensed electrician do it by the local code; pull the plug before you open anything.",
    ),
    (
        "gas",
        "DANGER",
        "A gas leak explodes.",
        "People die.",
        "Leave every gas line to a licensed fitter, and keep this piece as far away as the local code says.",
    ),
    (
        "structure",
        "WARNING",
        "Cutting into a wall, floor or beam can weaken the house.",
        "It can come down.",
        "Ask a licensed professional and follow the local building code before you cut.",
    ),
)

CAUTIONS: Final[Mapping[str, Caution]] = MappingProxyType({row[0]: Caution(*row) for row in _TEXTS})

# Before anything else: what holds for the whole build, in the order it is read.
GENERAL: Final[tuple[Caution, ...]] = (
    Caution(
        "machines",
        "WARNING",
        "Saws, routers and planers cut hands.",
        "They maim in a moment.",
        "Read each manual, keep the guards on, pull the plug before you change a blade or bit.",
    ),
    Caution(
        "eyes and ears",
        "WARNING",
        "Chips fly and machines are loud.",
        "You can lose sight or hearing.",
        "Wear eye and ear protection whenever a machine runs or a hammer falls.",
    ),
    Caution(
        "clothing",
        "WARNING",
        "Gloves, sleeves, rings and long hair are caught by turning tools.",
        "They pull you in.",
        "Take them off or tie them back; no gloves at a turning blade or bit.",
    ),
    CAUTIONS["sanding dust"],
    CAUTIONS["finish rags"],
    Caution(
        "bystanders",
        "CAUTION",
        "Children and pets do not see what you are about to do.",
        "They get hurt.",
        "Keep them out of the shop, and lock or unplug machines when you leave.",
    ),
    Caution(
        "tired",
        "CAUTION",
        "Haste, tiredness, drink and drugs spoil judgement.",
        "Accidents follow.",
        "Stop. The work waits.",
    ),
    Caution(
        "read first",
        "NOTICE",
        "Wood, blades and hardware differ from what was drawn.",
        "Parts may then not fit.",
        "Read all the steps first, measure what you bought, test each set-up on scrap.",
    ),
)
