"""Drinks and stirs over a wide range, for properties that must always hold."""

from __future__ import annotations

from hypothesis import strategies as st

from service.liquid import Stirring, poured

drinks = st.builds(
    poured,
    st.floats(30.0, 300.0),
    abv=st.floats(0.0, 0.55),
    sugar_g_per_l=st.floats(0.0, 200.0),
    acid_g_per_l=st.floats(0.0, 8.0),
)
stirrings = st.builds(
    Stirring,
    seconds=st.floats(0.0, 900.0),
    ice_g=st.floats(20.0, 800.0),
    cube_mm=st.floats(4.0, 80.0),
    ice_celsius=st.floats(-25.0, 0.0),
    surface_water_g=st.floats(0.0, 20.0),
    vessel_j_per_k=st.floats(0.0, 500.0),
    vessel_celsius=st.floats(-18.0, 30.0),
    start_celsius=st.floats(4.0, 35.0),
    turns_per_second=st.floats(0.0, 4.0),
)
