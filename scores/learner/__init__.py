"""The learner's model beside the record: kept, followed answer by answer, and told from."""
