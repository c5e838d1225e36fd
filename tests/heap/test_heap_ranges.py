"""Products and quotients of ranges, against sampling with numpy."""

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.blend.shapes import Range
from advisor.heap.ranges import alike, exactly, over, times


def ends(spread):
    return (spread.low, spread.typical, spread.high)


def test_a_plain_number_leaves_the_spread_as_it_is():
    assert ends(times(Range(1, 2, 4), exactly(3))) == pytest.approx((3, 6, 12))
    assert ends(over(exactly(12), Range(1, 2, 4))) == pytest.approx((3, 6, 12))


def test_nothing_times_anything_is_nothing():
    assert ends(times(Range(0, 0, 0), Range(1, 2, 3))) == (0, 0, 0)


def test_it_may_be_nought():
    assert times(Range(0, 2, 4), Range(1, 2, 3)).low == 0


def test_independent_errors_agree_with_sampling():
    # Log-normal factors whose 5th and 95th percentiles are the ends: so are those of the product.
    random = numpy.random.default_rng(7)
    one, two = Range(2, 4, 8), Range(10, 15, 22.5)

    def drawn(spread):
        sigma = numpy.log(spread.high / spread.typical) / 1.6449  # the 95th percentile of the normal distribution
        return spread.typical * numpy.exp(random.normal(0, sigma, 400_000))

    sampled = numpy.percentile(drawn(one) * drawn(two), [5, 50, 95])
    assert ends(times(one, two)) == pytest.approx(tuple(sampled), rel=0.02)
    sampled = numpy.percentile(drawn(one) / drawn(two), [5, 50, 95])
    assert ends(over(one, two)) == pytest.approx(tuple(sampled), rel=0.02)


def test_kg_over_litres_of_the_same_scraps_gives_back_the_density():
    litres, density = Range(8, 10, 12), Range(0.3, 0.45, 0.6)
    kg = Range(8 * 0.3, 10 * 0.45, 12 * 0.6)
    assert ends(alike(kg, litres)) == pytest.approx(ends(density))


@pytest.mark.parametrize("quotient", [over, alike])
def test_what_may_be_nought_divides_nothing(quotient):
    with pytest.raises(ValueError, match="nought"):
        quotient(Range(1, 2, 3), Range(0, 1, 2))


positive = st.floats(0.01, 1000)
spreads = st.tuples(positive, positive, positive).map(lambda three: Range(*sorted(three)))


@given(spreads, spreads)
def test_a_product_is_in_order_and_within_the_extremes(one, two):
    product = times(one, two)
    assert product.low <= product.typical * (1 + 1e-12) and product.typical <= product.high * (1 + 1e-12)
    assert one.low * two.low <= product.low * (1 + 1e-9)
    assert product.high <= one.high * two.high * (1 + 1e-9)
