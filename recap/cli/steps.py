"""The steps of the work, which group the commands in ``recap --help``, and the exit statuses (0: done)."""

START = "Start"
READ = "Read the lists"
CHECK = "Check a part"
ORDER = "Order"
RECEIVE = "Receive and sort"
BENCH = "At the bench"
AFTER = "Afterwards"

INPUT_ERRORS = 1
USAGE = 2
NO_ORDER = 3
