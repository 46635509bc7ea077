"""One model of the learner: every threshold in one Gaussian, updated by each answer.

``layout``      which skills there are, and how alike they are beforehand
``settings``    every constant, and the five settings that run side by side
``seeing``      what one answer says of the threshold seen (numpy)
``learner``     the state: begin, an answer, a day, a change of what is offered (numpy)
``estimates``   what is told of it: skills, kinds, families, the whole eye (numpy)
``blob``        the state as bytes, and back (numpy)
``figures``     the estimates as kept for the first screen (no numpy)
``forgetting``  how long a step held stays held, and when it is due (no numpy)

Whether the whole eye has changed is ``scores.progress.claim``.
"""
