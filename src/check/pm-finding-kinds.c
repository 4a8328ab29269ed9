/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The kinds of findings. */
#include "config.h"
#include "pm-finding-kinds.h"
#include <glib/gi18n-lib.h>

const PmFindingInfo PM_FINDINGS[PM_N_FINDING_KINDS] = {
    [PM_FINDING_RAILS_JOINED] =
        {"rails-joined", N_("A short between supplies: tracks, contacts and the supply itself get hot at once."),
         FALSE},
    [PM_FINDING_SUPPLY_ON_SIGNAL] = {"supply-on-signal", N_("A supply on a signal pin destroys the part behind it."),
                                     FALSE},
    [PM_FINDING_SUPPLY_PIN] = {"supply-pin-wrong",
                               N_("The chip has no supply, or the wrong way round: it does nothing, and may be "
                                  "destroyed."),
                               FALSE},
    [PM_FINDING_IDLE_TODAY] =
        {"answers-idle-today",
         N_("Either the machine keeps a drive on with nothing turned on, or its file is wrong; then all that is said "
            "of the board is wrong too."),
         TRUE},
    [PM_FINDING_OUTPUTS_COLLIDE] = {"outputs-collide",
                                    N_("Both outputs push against each other: the line sits in between, the parts get "
                                        "hot, and what is read is chance."),
                                    TRUE},
    [PM_FINDING_CONTROL_WRONG_WAY] = {"control-wrong-way",
                                      N_("The lever does the opposite of its label: the wrong disk is written."),
                                      TRUE},
    [PM_FINDING_THROUGH_NOT_CARRIED] = {"through-not-carried",
                                        N_("The line ends at the board; whatever needs it does not work."), TRUE},
    [PM_FINDING_DATA_WITH_CLOCK] =
        {"data-moves-with-clock",
         N_("Which of the two comes first hangs on the delay of each part: it works with one batch, or cold, and fails "
            "with the next."),
         TRUE},
    [PM_FINDING_START_UNKNOWN] = {"start-unknown", N_("After power-on it is chance which drive answers."), TRUE},
    [PM_FINDING_NEVER_SETTLES] = {"never-settles", N_("The line swings for ever; what is read is chance."), TRUE},
    [PM_FINDING_OPEN_CMOS_INPUT] =
        {"open-cmos-input",
         N_("An open CMOS input follows whatever is near, even a finger: which drive answers is chance."), TRUE},
    [PM_FINDING_SELECT_FLOATS] =
        {"select-floats", N_("Nothing holds the select of this drive: it may answer at any time, and spoil a disk."),
         TRUE},
    [PM_FINDING_TWO_DRIVES] = {"two-drives-answer", N_("Both drives read at once, and a write lands on both disks."),
                               TRUE},
    [PM_FINDING_ANSWERS_IDLE] =
        {"answers-when-idle",
         N_("The drive is on all the time: its lamp stays lit, and it joins in whenever another drive is meant."),
         TRUE},
    [PM_FINDING_TWO_SELECTS] =
        {"one-drive-two-selects",
         N_("The same disk appears twice, and the system may write its notes of one over the other."), TRUE},
    [PM_FINDING_REACHES_NOTHING] = {"reaches-nothing",
                                    N_("The machine waits for a drive that is not there: \"no disk\"."), TRUE},
    [PM_FINDING_NOT_AS_WANTED] = {"not-as-wanted", N_("The machine starts from another drive than the label says."),
                                  TRUE},
    [PM_FINDING_SHARED_LINE_HELD] =
        {"shared-line-held",
         N_("The machine reads the wrong drive's state, or none at all, and hangs or spoils a disk."), TRUE},
    [PM_FINDING_SIDE_LINE_STAYS] =
        {"side-line-stays",
         N_("The drive is selected but this line of it does not follow: it does not turn, or is not noticed."), TRUE},
    [PM_FINDING_ANSWERS_RESET] =
        {"answers-in-reset",
         N_("The drive is on while the machine starts, and what the lines do then may spoil its disk."), TRUE},
    [PM_FINDING_ANSWERS_HOST_OFF] =
        {"answers-machine-off",
         N_("A drive with power of its own is on while nothing governs it: its disk may be spoilt."), TRUE},
    [PM_FINDING_OPEN_BIPOLAR_INPUT] = {"open-bipolar-input",
                                       N_("An open input of this family reads high most of the time, but any noise on "
                                           "it changes which drive answers."),
                                       TRUE},
    [PM_FINDING_NOT_SEEN_AS] =
        {"not-seen-as",
         N_("The machine asks this drive to say what it is; a drive that does not is taken as not there."), FALSE},
    [PM_FINDING_LOW_NOT_REACHED] =
        {"low-not-reached",
         N_("The output cannot pull the line low enough: it works cold and fails warm, or not at all."), FALSE},
    [PM_FINDING_HIGH_NOT_ENOUGH] = {"high-not-enough",
                                    N_("The highest level that is sure to come is lower than what the input needs: it "
                                        "works with one batch and fails with the next."),
                                    FALSE},
    [PM_FINDING_UNUSED_INPUT_OPEN] =
        {"unused-input-open", N_("An open CMOS input may swing, draw current and disturb its neighbours in the chip."),
         FALSE},
    [PM_FINDING_POSITION_NOT_STATED] = {"position-not-stated",
                                        N_("What was found holds for the place that was assumed."), FALSE},
    [PM_FINDING_ASSUMED] = {"assumed", N_("What was found holds only if this is so."), FALSE},
    [PM_FINDING_POWER_ON_RESET] =
        {"power-on-reset",
         N_("A resistor and a capacitor hold the reset at power-on: whether it lasts long enough was not worked out."),
         FALSE},
    [PM_FINDING_AS_TODAY] = {"as-today",
                             N_("The machine does the same without the board; the board neither makes nor mends it."),
                             FALSE},
    [PM_FINDING_NEXT_RESET] =
        {"acts-at-next-reset",
         N_("The lever may be moved at any time, but the drives change places only at the next reset."), FALSE},
    [PM_FINDING_BOTH_SELECTS] = {"both-selects-on",
                                 N_("The machine does not usually turn two selects on; if it does, outputs collide."),
                                 FALSE},
};
