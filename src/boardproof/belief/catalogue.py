"""What students wrongly believe about direct-current circuits, by key: what a `trap` may name.

What a belief computes on a circuit is another module's idea.
"""

from __future__ import annotations

from typing import Final

from boardproof.record import record

__all__ = ["BELIEFS", "Belief", "read_belief"]


@record
class Belief:
    """A wrong idea, said as its believer would say it.

    Parameters
    ----------
    key : str
        Its name, words joined by underscores.
    words : str
        One sentence.
    """

    key: str
    words: str


ROWS: Final = (
    ("current_used_up", "Current is weakened by each part it passes."),
    ("current_shared_by_series_parts", "A fixed current is dealt out among parts in one loop."),
    ("currents_clash", "Plus current and minus current leave both terminals and meet in the lamp."),
    ("one_lead_is_enough", "Something works when joined to one terminal."),
    ("only_downstream_feels_change", "A change acts only on parts the current reaches later."),
    ("nearest_gets_most", "The branch nearer the battery is served first."),
    ("equal_split_at_junction", "Every junction halves the current."),
    ("all_takes_easiest_path", "The whole current takes the least resistance."),
    ("more_resistance_more_current", "Share of current grows with R."),
    ("branches_never_matter_to_each_other", "Switching one branch leaves the other exactly as it was."),
    ("picture_decides", "Side by side on the page means parallel, in a row means series."),
    ("minus_answer_is_an_error", "A negative branch current is thought wrong and its sign is dropped."),
    ("constant_current_source", "A cell sends the same current whatever is joined to it."),
    ("terminal_pd_is_emf", "The terminal p.d. is the EMF, always."),
    ("emf_divided_by_load", "The current is the EMF over the load alone."),
    ("load_left_out", "The current is the EMF over the internal resistance, whatever the load."),
    ("lost_volts_added", "The lost volts are added to the EMF."),
    ("lost_volts_never_change", "The lost volts found at one load are the same at another."),
    ("r_put_beside_load", "The internal resistance stands in parallel with the load."),
    ("loaded_reading_is_emf", "The EMF is the reading under load."),
    ("short_circuit_is_endless", "A short-circuit current has no limit."),
    ("short_circuit_draws_nothing", "A short circuit has nothing to drive, so no current flows."),
    ("short_kills_pd_not_current", "In a short the p.d. goes to nought and the current stays as it was."),
    ("bare_wire_ignored", 'A wire across a part changes nothing because "there is nothing in it".'),
    ("open_gap_has_no_pd", "There is no p.d. across an open switch."),
    ("no_current_no_pd", "No current, so no p.d., even across an open cell."),
    ("battery_is_a_store_of_charge", "A cell holds charge or current and gives it away."),
    ("bigger_cell_more_volts", "A bigger cell has a bigger EMF."),
    ("most_power_at_least_load", "The smaller the load, the more power it takes, without end."),
    ("most_power_at_most_load", "Bigger load takes more power."),
    ("matched_means_efficient", "When load and internal resistance are equal nothing is wasted."),
    ("all_power_reaches_load", "All the power that the cell gives reaches the load."),
    ("bigger_resistor_always_hotter", "The bigger resistor is always the hotter."),
    ("parallel_adds_emfs", "EMFs in parallel add."),
    ("parallel_plain_mean", "The EMF of cells in parallel is the plain mean."),
    ("parallel_strongest_wins", "The EMF of cells in parallel is the largest of them."),
    ("parallel_weights_upside_down", "In parallel the cell with the larger resistance counts for more."),
    ("parallel_adds_r", "Internal resistances in parallel add."),
    (
        "parallel_r_not_turned_over",
        "The resistance in parallel is the sum of the reciprocals, not turned over.",
    ),
    ("parallel_r_mean_over_n", "The resistance in parallel is the mean over the number of cells."),
    ("parallel_r_unchanged", "The resistance in parallel is that of one cell."),
    ("product_over_sum_of_three", "Three resistances in parallel: product over sum."),
    ("solo_currents_added", "Each cell drives the load as if it were alone, and the currents add."),
    ("n_cells_n_times_current", "n equal cells in parallel give n times the current."),
    ("equal_share_of_current", "Unlike cells in parallel share the current equally."),
    ("idle_cells_rest", "Unlike cells in parallel with no load carry no current."),
    ("weak_cell_always_helps", "Every cell gives current."),
    ("turned_cell_not_noticed", "A turned cell counts as if it stood the right way."),
    ("turned_cell_takes_r_away", "A turned cell takes its resistance away as well."),
    ("turned_cell_vanishes", "The turned cell is left out, r and all."),
    ("turned_in_parallel_just_subtracts", "For a turned cell in parallel the EMFs are simply subtracted."),
    ("series_r_not_added", "In series the EMFs add, but the resistance is that of one cell."),
    ("series_adds_currents", "Series cells add their short-circuit currents."),
    ("series_keeps_current", "More cells in series, same current."),
    ("own_current_on_each_side", 'In one loop with two batteries each side has "its battery\'s" current.'),
    (
        "loops_do_not_touch",
        "In a two-loop net each loop is solved alone, the shared branch counted twice or not at all.",
    ),
    ("bank_counts_swapped", "In a bank the rows lift the EMF and the cells in a row share the current."),
    ("bank_r_from_one_row", "The resistance of a bank is that of one row."),
    ("bank_r_all_added", "The resistances of all cells of a bank add."),
    ("more_cells_always_better", "Adding a row or a cell always raises the load current."),
    ("series_parallel_swapped", "The rules for series and parallel are exchanged."),
    ("parallel_is_more_obstacle", "Adding a part in parallel raises total R."),
    ("reciprocal_forgotten", "The resistance in parallel is the sum of the reciprocals."),
    ("parallel_is_mean", "The resistance in parallel is the mean."),
    ("pd_shared_equally_in_series", "The p.d. is shared equally by parts in series."),
    ("pd_goes_to_smaller", "In series the smaller resistance has the larger p.d."),
    ("full_pd_on_each", "Each part in series has the full p.d."),
    ("parallel_shares_pd", "The p.d. is dealt out among parts in parallel."),
    ("pd_at_a_point", "There is a p.d. at one point."),
    ("words_merge", "Current, p.d., energy and power are words for one thing."),
    ("signs_dropped_round_loop", "All EMFs and drops entered positive."),
    ("ammeter_across", "An ammeter is put in parallel to measure the current."),
    ("voltmeter_in_line", "A voltmeter is put in series."),
    ("ammeter_not_a_load", "An ammeter's own resistance makes no difference."),
    ("voltmeter_draws_nothing", "A voltmeter takes no current, whatever its resistance."),
    ("meter_side_matters", "A meter reads differently on the two sides of a part."),
    ("emf_needs_no_care", "The EMF can be read at any time and under any load."),
    ("r_is_v_over_i", "The internal resistance is p.d. over current from one reading."),
    ("graph_roles_swapped", "Of the p.d. against current line, intercept and slope are exchanged."),
    ("false_origin", "EMF read at the left edge of a graph that does not start at I = 0."),
    ("best_line_through_origin", 'Line forced through (0,0) on V against I: gives "r" = V/I.'),
    ("one_good_reading", "One careful reading is the value; spread is a mistake."),
    ("digital_is_exact", "A digital reading has no uncertainty."),
    ("half_width_is_u", "The half-width is the standard uncertainty."),
    ("spread_not_of_the_mean", "The spread of one reading is used for the mean, or the reverse."),
    ("uncertainties_add_straight", "Independent uncertainties add straight."),
    ("percents_added_on_a_difference", "The rule for percentages is used on a difference."),
    ("fit_terms_thought_independent", "Intercept and slope combined as if uncorrelated."),
    ("different_digits_mean_disagree", "Two results differ, so one is wrong."),
    ("all_the_digits", "All the digits of the calculator count."),
    ("more_readings_cure_all", "Averaging removes a meter's own error."),
)
BELIEFS: Final = {key: Belief(key, words) for key, words in ROWS}


def read_belief(text: str) -> Belief | None:
    """The belief that a text names, with spaces or underscores; None if there is none of that name.

    Parameters
    ----------
    text : str
        As a teacher types it, capitals or not.

    Examples
    --------
    >>> read_belief("parallel plain mean").key
    'parallel_plain_mean'
    >>> read_belief("phlogiston") is None
    True
    """
    return BELIEFS.get("_".join(text.lower().replace("_", " ").split()))
