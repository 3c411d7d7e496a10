"""Every formula of the trade by name, and any of them worked with given numbers."""

from thickset.trade import formulas_cutting, formulas_shop, formulas_wood
from thickset.trade.formula import Formula, Worked

FORMULAS: dict[str, Formula] = {
    formula.function.__name__: formula
    for table in (formulas_cutting.TABLE, formulas_wood.TABLE, formulas_shop.TABLE)
    for formula in table
}


def worked(name: str, **numbers: object) -> Worked:
    """A formula worked with numbers: what was put in and what comes out [its own unit].

    name: of the function; numbers: its inputs by name [units of the formula].

    Valid: as the function itself; out of range is its error.
    Source: the function, so that the words cannot drift from the figure.

    >>> answer = worked("removal_rate", width=300.0, depth=1.5, feed=8.0)
    >>> answer.value, answer.formula.unit, answer.formula.steps
    (3600.0, 'cm3/min', (('Q', 'b × d × v'),))
    >>> [(each.symbol, value, each.unit) for each, value in answer.put_in]
    [('b', 300.0, 'mm'), ('d', 1.5, 'mm'), ('v', 8.0, 'm/min')]
    """
    formula = FORMULAS[name]
    put_in = tuple((each, numbers[each.name]) for each in formula.inputs if each.name in numbers)
    return Worked(formula, put_in, formula.function(**numbers))
