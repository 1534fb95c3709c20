"""A second reader beside the rules: a small network that was taught what figures and sentences are for.

    asking.ask(...)                -> of each figure what it is for, its stage and its item; of each
                                      sentence what it tells, and of which section; of each figure also of
                                      what kind it is
    settling.weigh_figures(...)    -> figures that were only mentioned are set aside or doubted, and those
                                      that rules set aside are kept with a doubt where they were measured
    times.hear_times(...)          -> times of day that were printed as figures
    taking_back.let_fall(...)      -> readings that were taken back without a word that rules know
    settling.settle_readings(...)  -> stage and item of the readings, where the network plainly knows better
    in_order.doubt_verdict(...)    -> a doubt on a broken limit that sounds as if all were in order
    reader.put_right_of(...)       -> whether a violation was put right, by what was said after it

It has six layers, and was taught by written walks and sayings in which all that is marked
(`shared/vocabulary/walks/`, `figures_said/`, `sayings/`), and by a guide eight times as costly that had
learned from them; `make weights` teaches it again. The rules speak first: it overrules them where they guess
and it is surer, or where it is nearly certain; what it is unsure of carries a doubt. It began as
all-MiniLM-L6-v2 (Apache License 2.0, `weights/LICENSE.txt`).
"""
