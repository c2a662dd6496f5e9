"""A shell that starts tests in the background has interrupts ignored, and every program started here inherits that."""

import signal

if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)
