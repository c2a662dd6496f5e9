"""A shell that starts the tests in the background has interrupts ignored, and every program started here inherits it."""

import signal

if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)
