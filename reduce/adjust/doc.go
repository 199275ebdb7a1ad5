// Package adjust works a station by least squares: the means of both faces over several
// rounds, gaps allowed (Sights), and the same on single faces (Readings), for finding a
// faulty reading. The unknowns are the directions, and one collimation on single faces;
// the orientation of each round is eliminated before anything is built. The tags of
// sources are those of package reduce.
package adjust
