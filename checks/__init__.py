"""The trade, as a library: from what was seen and measured to verdicts, limits and findings.

It holds record, physics, code profiles, stations and the assessment. It touches no screen, store,
page, file, clock or network.
"""
