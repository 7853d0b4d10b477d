"""Where each belief is documented; 'slip' where it is an algebra slip without a published share."""

from __future__ import annotations

from typing import Final

__all__ = ["PAPERS", "SLIP", "cited"]

SLIP: Final = "slip"
PAPERS: Final = {
    "EB": "P. V. Engelhardt, R. J. Beichner, Am. J. Phys. 72 (2004) 98-115",
    "MS": "L. C. McDermott, P. S. Shaffer, Am. J. Phys. 60 (1992) 994-1003",
    "CEG": "R. Cohen, B. Eylon, U. Ganiel, Am. J. Phys. 51 (1983) 407-412",
    "ShipA": "D. M. Shipstone, Eur. J. Sci. Educ. 6 (1984) 185-198",
    "ST": "M. R. Stetzer and others, Am. J. Phys. 81 (2013) 134-143",
    "SvK": "D. P. Smith, P. van Kampen, Phys. Rev. ST Phys. Educ. Res. 7 (2011) 020115",
    "RH": "A. S. Rosenthal, C. Henderson, Am. J. Phys. 74 (2006) 324-328",
    "GA": "I. Garzón and others, Am. J. Phys. 82 (2014) 72-79",
    "PE": "H. Peşman, A. Eryılmaz, J. Educ. Res. 103 (2010) 208-222",
    "TK": "D. Timmermann, C. Kautz, Student understanding of open switches and open circuits, conference paper",
    "KK": "H. Küçüközer, S. Kocakülah, J. Turkish Sci. Educ. 4 (2007) 101-115",
    "BG": "A. T. Borges, J. K. Gilbert, Int. J. Sci. Educ. 21 (1999) 95-117",
    "AM": "M. Arnold, R. Millar, Int. J. Sci. Educ. 9 (1987) 553-563",
    "IV": "L. Ivanjek and others, Phys. Rev. Phys. Educ. Res. 17 (2021) 020123",
    "LM": "L. Liégeois, E. Mullet, Int. J. Sci. Educ. 24 (2002) 551-564",
    "MK": "R. Millar, T. King, Int. J. Sci. Educ. 15 (1993) 339-349",
    "PB": "M. C. Periago, X. Bohigas, Rev. Electr. Investig. Educ. 7 (2005)",
    "DE": "A dynamic electron model for teaching electric circuits, The Physics Teacher 61(1) 10",
    "SK": "B. J. Skromme, D. Robinson, ASEE 2015, paper 14125",
    "PI": "Practitioner monograph on EMF from a literature-review project",
    "IOP": "Institute of Physics, pages on documented misconceptions",
    "ABC": "A. Black, Addressing Misconceptions in Science",
    "LI": "P. Licht, Phys. Educ. 26 (1991) 272-277",
    "DR": "R. Duit, C. von Rhöneck, in Connecting Research in Physics Education with Teacher Education (1998)",
    "PS": "D. Psillos, in Connecting Research in Physics Education with Teacher Education (1998)",
    "LE": "H. J. Lewandowski and others, arXiv:1707.01980 (2017)",
    "HU": "Humboldt-Universität zu Berlin, handbook page on point and set views",
    "AL": "S. Allie and others, Int. J. Sci. Educ. 20 (1998) 447-459",
    "PX": "Durham University, study of first-year laboratories",
    "PH": "Philippine survey of 102 students (2012)",
    "DD": "D. L. Deardorff, dissertation, North Carolina State University (2001)",
    "GUM": "JCGM 100:2008",
}
"""Tags of the sources."""
CITED: Final = {
    "current_used_up": "ShipA EB KK BG",
    "current_shared_by_series_parts": "PE ShipA",
    "currents_clash": "AM DE",
    "one_lead_is_enough": "AM BG ST",
    "only_downstream_feels_change": "ShipA DE",
    "nearest_gets_most": "MS",
    "equal_split_at_junction": "DE CEG",
    "all_takes_easiest_path": "MS",
    "branches_never_matter_to_each_other": "MS",
    "picture_decides": "EB MS",
    "minus_answer_is_an_error": "SK",
    "constant_current_source": "EB SvK KK CEG LI",
    "terminal_pd_is_emf": "GA PI CEG",
    "emf_divided_by_load": "CEG",
    "lost_volts_never_change": "GA",
    "loaded_reading_is_emf": "GA",
    "short_circuit_draws_nothing": "PE MS",
    "short_kills_pd_not_current": "CEG",
    "bare_wire_ignored": "PE EB",
    "open_gap_has_no_pd": "TK",
    "no_current_no_pd": "CEG PB SvK",
    "battery_is_a_store_of_charge": "IOP ABC",
    "bigger_cell_more_volts": "BG",
    "all_power_reaches_load": "GA",
    "bigger_resistor_always_hotter": "CEG",
    "parallel_adds_emfs": "SvK",
    "solo_currents_added": "SvK",
    "n_cells_n_times_current": "SvK",
    "idle_cells_rest": "ST",
    "weak_cell_always_helps": "SvK",
    "turned_cell_not_noticed": "SvK",
    "series_adds_currents": "SvK",
    "series_keeps_current": "EB SvK",
    "own_current_on_each_side": "ST",
    "loops_do_not_touch": "SvK",
    "series_parallel_swapped": "EB",
    "parallel_is_more_obstacle": "MS LM",
    "pd_shared_equally_in_series": "MK",
    "full_pd_on_each": "MK PB",
    "parallel_shares_pd": "IV RH",
    "pd_at_a_point": "RH IOP",
    "words_merge": "EB BG DR",
    "signs_dropped_round_loop": "SK",
    "ammeter_across": "PS",
    "voltmeter_in_line": "PS",
    "meter_side_matters": "ShipA",
    "one_good_reading": "LE HU AL PH",
    "digital_is_exact": "GUM",
    "half_width_is_u": "GUM",
    "spread_not_of_the_mean": "GUM",
    "uncertainties_add_straight": "GUM",
    "fit_terms_thought_independent": "GUM",
    "different_digits_mean_disagree": "PX DD",
    "all_the_digits": "DD GUM",
    "more_readings_cure_all": "GUM",
}


def cited(belief: str) -> tuple[str, ...]:
    """The sources of a belief.

    Parameters
    ----------
    belief : str
        Key of the catalogue.

    Examples
    --------
    >>> cited("open_gap_has_no_pd")[0][:13], cited("load_left_out")
    ('D. Timmermann', ('slip',))
    """
    return tuple(PAPERS[tag] for tag in CITED.get(belief, "").split()) or (SLIP,)
