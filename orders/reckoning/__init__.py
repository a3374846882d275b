"""The pure core: from what was measured to what is made. No Django, no clock, no files.

Lengths are in millimetres along the shank: down from the apex, or up from the foot shell's rim.
"""
