"""What Android starts: the touch interface on the app's private folder."""

from fieldapp.app import run_touch
from fieldapp.device import this_device

if __name__ == "__main__":
    run_touch(this_device().data_dir())
