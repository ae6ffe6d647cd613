"""The trade, as a library: from what was seen and measured to verdicts, limits and findings.

It holds record, physics, code profiles, stations and the assessment. It touches no screen, store,
page, file, clock or network.
"""

from typing import Final

SOFTWARE: Final = "0.1.0"  # whose judgement it is; in every assessment and every report
