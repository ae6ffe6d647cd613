"""The device that the app runs on: its clock, camera, files and other apps.

Belongs here: what differs between a phone and a desktop. Everything else asks for a `Device`.
"""

import sys

from fieldapp.device.port import Device, DeviceError, Insets

__all__ = ["Device", "DeviceError", "Insets", "this_device"]


def this_device() -> Device:
    """Return the device that the program runs on."""
    # Python for Android says `linux` before 3.13; this name is there in both.
    if hasattr(sys, "getandroidapilevel"):
        from fieldapp.device.android import AndroidDevice

        return AndroidDevice()
    from fieldapp.device.desktop import DesktopDevice

    return DesktopDevice()
