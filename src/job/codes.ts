import type { CodeMeaning } from '../finding.ts';

/** Findings of the run itself: files, options, fittings, output. */
export const jobCodes: Record<string, CodeMeaning> = {
  'job-file-unreadable': { level: 'error', means: 'A file named on the command line cannot be opened.' },
  'job-unfolded': {
    level: 'note',
    means: 'A half piece was opened out to its full width, or a pair drawn as left and right.',
  },
  'job-format-unknown': { level: 'error', means: 'A pattern file is neither DXF nor SVG.' },
  'job-option-unknown': { level: 'error', means: 'The value of an option is none of those it takes.' },
  'job-option-clash': { level: 'error', means: 'Two options cannot go together, or one needs another.' },
  'job-no-pieces': { level: 'error', means: 'No pattern piece was found in the file.' },
  'job-no-fittings': { level: 'error', means: 'Nothing says who the pattern is to be altered for.' },
  'job-fittings-unused': {
    level: 'note',
    means: 'A table of fittings has measurements that the pattern does not use.',
  },
  'job-fittings-left': {
    level: 'warning',
    means: 'An earlier run did fittings that the table no longer asks for; what it wrote for them stays.',
  },
  'job-fitting-far-from-pattern': {
    level: 'warning',
    means: 'A wearer is far from the body that the pattern was drafted for.',
  },
  'job-fitting-exchanged': {
    level: 'warning',
    means: 'Two measurements are the other way round than on the body that the pattern was drafted for.',
  },
  'job-fittings-no-columns': { level: 'error', means: 'The pieces of a pattern use no body measurement.' },
  'job-drafted-for-unknown': { level: 'error', means: 'Nothing says which body the pattern was drafted for.' },
  'job-drafted-for-overridden': {
    level: 'note',
    means: 'Two places state the drafted-for measurement differently; one goes first.',
  },
  'job-fitting-other-pattern': { level: 'note', means: 'A fitting is for another pattern and was left out.' },
  'job-fitting-size-unsaid': {
    level: 'note',
    means: 'A fitting asks for a size, and the only file of its pattern does not say which size it is.',
  },
  'job-fitting-every-pattern': {
    level: 'note',
    means: 'A row names no pattern though others do, and is for every pattern that was given.',
  },
  'job-fitting-pattern-unknown': {
    level: 'error',
    means: 'A fitting is for a pattern that was not given; the name of one that was is near.',
  },
  'job-fitting-size-missing': { level: 'error', means: 'A fitting asks for a size that was not given.' },
  'job-fitting-size-undecided': {
    level: 'error',
    means: 'Which of several sizes is nearest to a wearer cannot be told.',
  },
  'job-sizes-unclear': {
    level: 'error',
    means: 'Several files are sizes of one pattern, and one of them says no size, or the same as another.',
  },
  'job-style-twice': {
    level: 'note',
    means: 'Files of one style are not told apart by a size, and each is a pattern by itself.',
  },
  'job-view-unknown': { level: 'error', means: 'The pattern has no view of that name.' },
  'job-view-piece-missing': { level: 'error', means: 'A piece that the view needs is not in the file.' },
  'job-view-pieces-away': { level: 'note', means: 'Pieces that the view does not need are left as they are.' },
  'job-line-shared': { level: 'error', means: 'One line of the file serves two pieces that are altered differently.' },
  'job-written-line-missing': { level: 'error', means: 'A line as altered was not found again in the written file.' },
  'job-written-differs': { level: 'error', means: 'A line in the written file lies elsewhere than it was altered to.' },
  'job-girth-strange': {
    level: 'error',
    means: 'What the pieces measure round cannot belong to the body that the pattern is said to be drafted for.',
  },
  'job-measure-missed': {
    level: 'error',
    means: 'On the written file a measurement does not come out as the wearer needs it.',
  },
  'job-ease-no-least': { level: 'error', means: 'The least ease is asked for at a place for which none is known.' },
  'job-girth-missed': { level: 'error', means: 'A girth measured on the written file is not what was needed.' },
  'job-folder-collision': { level: 'error', means: 'Two fittings would be written to the same folder.' },
  'job-output-exists': { level: 'error', means: 'A file that would be written is there already.' },
  'job-output-changed': {
    level: 'error',
    means: 'A file that would be written anew was changed after it was written.',
  },
  'job-output-is-source': { level: 'error', means: 'A file that would be written is one of those that were read.' },
  'job-run-under-way': { level: 'error', means: 'Another run is writing to the same folder.' },
  'job-output-no-folder': { level: 'error', means: 'A file stands where a folder is needed to write to.' },
  'job-output-failed': { level: 'error', means: 'A file could not be written.' },
  'job-manifest-damaged': {
    level: 'warning',
    means: 'A line of a manifest cannot be read, and what it listed is not known any more.',
  },
  'job-shard-missing': { level: 'error', means: 'A part of a run that was spread over machines is not there.' },
  'job-shards-mixed': {
    level: 'error',
    means: 'Manifests of different runs lie in one folder, or the parts of one were not made alike.',
  },
  'job-shards-merged': { level: 'note', means: 'The parts of a run were merged already.' },
  'job-shard-incomplete': { level: 'error', means: 'A part of a run has not ended, or a file of it is not there.' },
  'job-shard-twice': { level: 'error', means: 'A fitting was done by more than one part of a run.' },
  'job-sheet-exists': { level: 'error', means: 'The pattern sheet that would be written is there already.' },
  'job-no-mates': {
    level: 'warning',
    means: 'No edges that are sewn together were found, so nothing could be walked.',
  },
  'job-alteration-unknown': { level: 'error', means: 'There is no alteration of that name.' },
  'job-plots-left': {
    level: 'warning',
    means: 'Plots of an earlier run lie beside newer ones and were not made anew.',
  },
  'job-plot-no-size': { level: 'error', means: 'Nothing says how wide the roll is, or which sheets are printed on.' },
  'job-machine-unknown': { level: 'error', means: 'There is no machine of that name, and no file.' },
  'job-machine-file-wrong': { level: 'error', means: 'A machine file is not as its schema has it.' },
  'job-report-letters-missing': {
    level: 'note',
    means: 'No font at hand has some letters of a page that was made as PDF; boxes stand in their place.',
  },
  'job-report-fault': { level: 'error', means: 'The program itself failed on the page of one fitting.' },
  'job-program-fault': { level: 'error', means: 'The program itself failed on one fitting.' },
};
