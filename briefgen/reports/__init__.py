"""Decode reports and forecasts of the weather, as they are sent: METAR, TAF and winds aloft.

Every token of a text is accounted for: in a group with a phrase in plain words, or in a group 'not decoded'. What a
text does not give is missing, with a reason; nothing is filled in.

    metar.read_metar       text of one METAR -> `model.Report`
    taf.read_taf           text of one TAF -> `model.Forecast`
    aloft.read_aloft       text of winds aloft -> `model.Aloft` for one station
    outlook.expected       the worst of everything that overlaps a window
    outlook.at_departure   the same, with what was observed
    outlook.age_min        how old a report is
"""
