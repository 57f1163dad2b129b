"""The screen in a browser: what is drawn goes out through a pipe, keys come in through another.

A page that is closed ends the pipe of the keys; the process then leaves as for a closed terminal. Several screens
may follow each other in one process (the home page, then a run), so the session lasts until the process ends.
"""

import os
import signal

from textual.drivers.web_driver import WebDriver

BEGUN = False
"""The first screen of the process has told the server that it is there."""
PRELUDE = b"__GANGLION__\n"
"""What Textual sends before the first packet of a screen."""
CLOSED = getattr(signal, "SIGHUP", signal.SIGTERM)


class ServedDriver(WebDriver):
    """Textual's driver for pipes, for a session with several screens."""

    def start_application_mode(self) -> None:
        """Begin; only the first screen sends the prelude."""
        global BEGUN  # noqa: PLW0603 - one pipe a process
        send, again = self._write, BEGUN

        def sent(data: bytes) -> int:
            if again and data == PRELUDE:
                return len(data)
            try:
                return send(data)
            except BrokenPipeError:  # the server has gone; the end of the keys tells it
                return len(data)

        self._write = sent  # type: ignore[assignment]  # a partial of os.write there
        BEGUN = True
        super().start_application_mode()

    def stop_application_mode(self) -> None:
        """End this screen, not the session: the server sees the process end."""
        self.exit_event.set()
        self._input_reader.close()

    def run_input_thread(self) -> None:
        """Take keys until the screen ends; where the pipe ends first, the page has been closed."""
        super().run_input_thread()
        if not self.exit_event.is_set():
            os.kill(os.getpid(), CLOSED)
