"""How much one person lifts without a warning.

The load constant of the revised lifting equation of the National Institute for Occupational Safety and
Health (1991): 23 kg, 51 lb, the most that the equation recommends where everything else is ideal (Waters,
Putz-Anderson and Garg, Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH)
Publication No. 94-110, 1994; the constant read in a reprint of the equation).
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

MOST_FOR_ONE: Final = Fraction(23)  # kg
