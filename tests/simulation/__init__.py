"""Simulated farms, to judge the prompt on does that are not the product's own.

`truth` is what they are: bodies, feed, feeders. `sample` draws farms from a seed; `records`, `keeper` and `plan` write
what an ordinary keeper would, `barn` lets a day pass, `phone` is the one door to the product. `grid`, `leads` and
`acts` are the three parts of `python -m tests.simulation`; `measure` and the reports make its table; `diet`, `limits`
and `search` judge acts by their own sums.
"""
